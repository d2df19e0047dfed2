#include "app/sheet_fingering.hpp"
#include "app/sheet_rhythm.hpp"
#include "trade/phrase_file.hpp"

#include <doctest/doctest.h>

#include <random>

using namespace landfall;
using app::sheet::NoteValue;

namespace {

trade::Phrase phrase_of(const std::string& lines) {
  const auto kept = trade::read_phrase("name: A\n" + lines);
  REQUIRE(kept);
  return kept->phrase;
}

/// `8 8 4. (r4) ~2`, a bar between each two bars.
std::string written(const trade::Phrase& phrase) {
  std::string text;
  for (const auto& bar : app::sheet::written_bars(phrase)) {
    text += text.empty() ? "" : " |";
    for (const auto& beat : bar.beats)
      text += std::string(text.empty() ? "" : " ") + (beat.tied ? "~" : "") +
              (beat.notes.empty() ? "r" : "") + std::to_string(beat.value.part) +
              std::string(static_cast<std::size_t>(beat.value.dots), '.') +
              (beat.value.triplet ? "t" : "");
  }
  return text;
}

} // namespace

TEST_CASE("lengths are made of the fewest values") {
  using app::sheet::values_of;
  CHECK(values_of(quarter) == std::vector{NoteValue{4, 0, false}});
  CHECK(values_of(quarter * 3) == std::vector{NoteValue{2, 1, false}});
  CHECK(values_of(quarter / 3) == std::vector{NoteValue{8, 0, true}});
  CHECK(values_of(quarter * 5 / 2) == std::vector{NoteValue{2, 0, false}, NoteValue{8, 0, false}});
  CHECK(values_of(Ticks{7}).empty());
}

TEST_CASE("a phrase is written as it was: pick-ups, rests, ties and triplets") {
  CHECK(written(phrase_of("key: A\npick-up: 8\nover: | A7 | D7 |\n"
                          "line: 1/8 | 3/4 r/4 5/2 | 1/8t 2/8t 3/8t 5/2. |\n")) ==
        "8 | 4 r4 2 | 8t 8t 8t 2.");
  CHECK(written(phrase_of("key: A\nover: | A7 | D7 |\nline: 1/2. 3/4~2 5/2 |\n")) == "2. 4 | ~2 2");
  CHECK(written(phrase_of("key: A\nmetre: 12/8\nover: | A7 |\nline: 1/4. 1/4. 1/4 1/8~4. |\n")) ==
        "4. 4. 4 8 ~4.");
}

TEST_CASE("what was played a little off, and let go early, is written as it was meant") {
  std::mt19937 random(4);
  const auto played = [&](const std::string& lines) {
    auto phrase = phrase_of(lines);
    for (auto& note : phrase.notes) {
      note.start += Ticks{static_cast<std::int64_t>(random() % 60) - 25};
      note.length = note.length * static_cast<std::int64_t>(70 + random() % 28) / 100;
    }
    return written(phrase);
  };
  for (int times = 0; times < 50; ++times) {
    CHECK(played("key: A\nover: | A7 | D7 |\n"
                 "line: 1/8 3/8 5/8 1/8 3/8 5/8 1/8 3/8 | 5/4 3/4 1/2 |\n") ==
          "8 8 8 8 8 8 8 8 | 4 4 2");
    CHECK(played("key: A\nover: | A7 |\nline: 1/8t 2/8t 3/8t 5/8t 3/8t 2/8t 1/4 3/4 |\n") ==
          "8t 8t 8t 8t 8t 8t 4 4");
  }
}

TEST_CASE("bars of a written phrase are full, whatever was played") {
  for (int off = 0; off < 200; off += 13) {
    trade::Phrase phrase = phrase_of("key: A\nover: | A7 | D7 |\nline: 1/4 3/4 5/4 1/4 | 1/1 |\n");
    for (auto& note : phrase.notes)
      note.start += Ticks{off};
    for (const auto& bar : app::sheet::written_bars(phrase)) {
      Ticks sum;
      for (const auto& beat : bar.beats)
        sum += ticks_of(beat.value);
      CHECK(sum == bar.length);
    }
  }
}

TEST_CASE("a phrase keeps the strings that it names, and finds a hand for the rest") {
  const neck::Fretboard board(neck::standard_guitar());
  const auto named = app::sheet::fingering_of(
      phrase_of("key: A\nover: | A7 |\nline: A4/2@2:10 C5/2@2:13 |\n"), board, {}, 5);
  REQUIRE(named);
  CHECK(named->stops == std::vector<app::sheet::Stop>{{2, 10}, {2, 13}});
  const auto free = app::sheet::fingering_of(
      phrase_of("key: A\nover: | A7 |\nline: A4/4 C5/4 D4/4 E4/4 |\n"), board, 5, 5);
  REQUIRE(free);
  CHECK(free->stops == std::vector<app::sheet::Stop>{{1, 5}, {1, 8}, {3, 7}, {2, 5}});
  const auto none =
      app::sheet::fingering_of(phrase_of("key: A\nover: | A7 |\nline: C1/1 |\n"), board, {}, 5);
  REQUIRE(!none);
  CHECK(none.error().find("C1") != std::string::npos);
}
