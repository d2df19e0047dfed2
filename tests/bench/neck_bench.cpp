// Prints, as JSON, how long the neck takes for whole songs and how that grows with their bars.

#include "neck/view.hpp"

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <vector>

namespace {

using namespace landfall;

/// Two chords a bar, with sevenths and alterations: more than most charts ask for.
std::vector<std::optional<theory::Chord>> song(std::size_t bars) {
  constexpr std::array chords{"Am7",  "D7",    "Gmaj7", "Cmaj7", "F#m7b5", "B7b9", "Em",
                              "E7#9", "A",     "Bm7",   "C6",    "D9",     "G/B",  "Eb7",
                              "D13",  "Gsus4", "Cm6",   "Fmaj9", "Bdim7",  "E+"};
  std::vector<std::optional<theory::Chord>> all;
  for (std::size_t i = 0; i < 2 * bars; ++i)
    all.emplace_back(theory::parse_chord(chords[i % chords.size()]).value());
  return all;
}

/// The median of several runs, in microseconds.
template <typename Work> double microseconds(Work work) {
  std::vector<double> runs;
  for (int i = 0; i < 41; ++i) {
    const auto start = std::chrono::steady_clock::now();
    work();
    runs.push_back(
        std::chrono::duration<double, std::micro>(std::chrono::steady_clock::now() - start)
            .count());
  }
  std::nth_element(runs.begin(), runs.begin() + 20, runs.end());
  return runs[20];
}

std::size_t sink = 0;

} // namespace

int main() {
  const auto guitar = neck::standard_guitar();
  neck::Setting setting;
  setting.instrument = &guitar;
  setting.key = theory::parse_key("G").value();
  setting.home = neck::find_position(guitar, setting.key, {}).value();
  setting.set = theory::parse_note_set("fitting").value();
  setting.over = theory::usual_over(setting.set);

  std::printf("{\"song_us\":{");
  const char* comma = "";
  for (const std::size_t bars : {12U, 24U, 48U, 96U, 192U}) {
    const auto chords = song(bars);
    const double us = microseconds([&] {
      for (const auto& chord : chords)
        sink += neck::view(setting, chord, {.groups = true, .grips = false}).notes.size();
    });
    std::printf("%s\"%zu\":%.0f", comma, bars, us);
    comma = ",";
  }
  const auto chords = song(10);
  const double landing = microseconds([&] {
    for (const auto& chord : chords)
      sink += neck::landing(setting, chord).size();
  });
  const double grips = microseconds([&] {
    for (const auto& chord : chords)
      sink += neck::view(setting, chord).grips.size();
  });
  std::printf("},\"landing_us\":%.1f,\"view_with_grips_us\":%.1f,\"target_48_bars_us\":5000}\n",
              landing / 20, grips / 20);
  return sink == 0 ? 1 : 0;
}
