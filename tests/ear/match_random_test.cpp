#include "match_cases.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <random>
#include <utility>

namespace landfall::ear {
namespace {

/// A call, an answer with known errors, and what is to be found.
struct Known {
  std::vector<AskedNote> call;
  std::vector<HeardNote> answer;
  std::string picture;
  std::vector<double> behind_ms; ///< Of notes that were played.
  double delay_ms = 0.0;
};

class Maker {
public:
  explicit Maker(unsigned seed) : random_(seed) {}

  Known make(double delay_ms) {
    Known known;
    known.delay_ms = delay_ms;
    Ticks at{};
    int midi = 60, extras = 0;
    for (int i = 0; i < 14; ++i) {
      midi = std::clamp(midi + steps_[static_cast<std::size_t>(pick(6))], 48, 76);
      known.call.push_back({at, sixteenth, midi});
      answer(known, known.call.back(), extras);
      at += sixteenth * (1 + pick(4));
    }
    known.picture += std::string(static_cast<std::size_t>(extras), '+');
    return known;
  }

private:
  int pick(int count) { return static_cast<int>(random_() % static_cast<unsigned>(count)); }

  void answer(Known& known, const AskedNote& note, int& extras) {
    int lot = pick(20);
    // An extra before a missing note is nothing but a wrong note.
    if (std::exchange(extra_before_, lot == 4) && lot == 0)
      lot = 5;
    double late = 0.0;
    int midi = note.midi;
    if (lot == 0) {
      known.picture += '-';
      known.behind_ms.push_back(0.0);
      return;
    }
    if (lot == 1)
      midi += pick(2) == 0 ? 1 : -1;
    if (lot == 2)
      late = 60.0;
    if (lot == 3)
      late = -50.0;
    const auto on = note.at + ms(late + known.delay_ms);
    known.answer.push_back(heard_note(on, midi));
    known.picture += lot == 1 ? 'x' : '=';
    known.behind_ms.push_back(late);
    if (lot == 4) { // far from all pitches of the call
      known.answer.push_back(heard_note(on + ms(60), 90));
      ++extras;
    }
  }

  std::mt19937 random_;
  bool extra_before_ = false;
  static constexpr std::array steps_{-3, -2, -1, 1, 2, 4};
};

TEST_CASE("answers with known errors are found out") {
  int wrong_pictures = 0, all = 0;
  double worst_ms = 0.0;
  for (unsigned seed = 1; seed <= 20; ++seed) {
    Maker maker(seed);
    int wrong_here = 0;
    for (int turn = 0; turn < 20; ++turn, ++all) {
      const auto known = maker.make(turn % 2 == 0 ? 0.0 : 70.0);
      MatchSettings settings;
      settings.tempo = case_tempo;
      const auto found = match(known.call, known.answer, settings);
      if (picture(found) != known.picture) {
        ++wrong_here;
        continue;
      }
      for (std::size_t i = 0; i < known.call.size(); ++i)
        if (found.notes[i].heard)
          worst_ms = std::max(worst_ms, std::abs(found.notes[i].behind_ms - known.behind_ms[i]));
    }
    CAPTURE(seed);
    CHECK(wrong_here <= 1);
    wrong_pictures += wrong_here;
  }
  MESSAGE(wrong_pictures, " of ", all, " answers told otherwise; worst time ", worst_ms, " ms");
  CHECK(wrong_pictures <= all / 50);
  CHECK(worst_ms < 3.0);
}

TEST_CASE("the answer so far never takes back what has gone by") {
  Maker maker(7);
  const auto known = maker.make(0.0);
  MatchSettings settings;
  settings.tempo = case_tempo;
  const auto whole = match(known.call, known.answer, settings);
  settings.until = known.call.back().at + quarter * 4;
  CHECK(picture(match(known.call, known.answer, settings)) == picture(whole));
}

TEST_CASE("every answer gives one fate for each note and accounts for each note once") {
  std::mt19937 random(3);
  for (int round = 0; round < 200; ++round) {
    std::vector<AskedNote> call;
    std::vector<HeardNote> notes;
    for (unsigned i = 0; i < random() % 12; ++i)
      call.push_back({{static_cast<std::int64_t>(i * 200 + random() % 200)},
                      eighth,
                      static_cast<int>(random() % 128)});
    for (unsigned i = 0; i < random() % 12; ++i)
      notes.push_back(heard_note({static_cast<std::int64_t>(i * 200 + random() % 200)},
                                 static_cast<int>(random() % 128)));
    const auto found = match(call, notes, {});
    REQUIRE(found.notes.size() == call.size());
    std::vector<int> uses(notes.size());
    for (const auto& note : found.notes)
      if (note.heard)
        ++uses[*note.heard];
    for (const auto extra : found.extras)
      ++uses[extra];
    CHECK(std::all_of(uses.begin(), uses.end(), [](int use) { return use == 1; }));
  }
}

} // namespace
} // namespace landfall::ear
