#include "ear/match.hpp"

#include <algorithm>
#include <chrono>
#include <iostream>
#include <random>

/// Aligns 64 notes with 64: medians of a hundred answers with errors, in microseconds.
int main() {
  using namespace landfall;
  std::mt19937 random(1);
  std::vector<double> plain, worst_case;
  for (int round = 0; round < 100; ++round) {
    std::vector<ear::AskedNote> call;
    std::vector<ear::HeardNote> answer;
    for (int i = 0; i < 64; ++i) {
      const int midi = 50 + static_cast<int>(random() % 20);
      call.push_back({sixteenth * i, sixteenth, midi});
      ear::HeardNote note;
      note.on = sixteenth * i + Ticks{static_cast<std::int64_t>(random() % 100)};
      note.off = note.silent = note.on + sixteenth;
      note.midi = midi + (random() % 8 == 0 ? 1 : 0);
      answer.push_back(note);
    }
    const auto measure = [&](std::vector<double>& times, ear::Octaves octaves) {
      ear::MatchSettings settings;
      settings.octaves = octaves;
      const auto start = std::chrono::steady_clock::now();
      const auto found = ear::match(call, answer, settings);
      const std::chrono::duration<double, std::micro> took =
          std::chrono::steady_clock::now() - start;
      times.push_back(found.notes.empty() ? 0.0 : took.count());
    };
    measure(plain, ear::Octaves::same);
    measure(worst_case, ear::Octaves::whole);
  }
  const auto median = [](std::vector<double>& times) {
    std::sort(times.begin(), times.end());
    return times[times.size() / 2];
  };
  std::cout << "{\"match_64_us\":" << median(plain)
            << ",\"match_64_any_octave_us\":" << median(worst_case) << "}\n";
}
