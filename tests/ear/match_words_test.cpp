#include "match_cases.hpp"

#include <doctest/doctest.h>

namespace landfall::ear {
namespace {

const std::vector<int> line{60, 62, 64, 65, 67, 65, 64, 60};

TEST_CASE("how far off a note is, is told in pitch and in time") {
  const auto call = eighths(line);
  auto notes = echo(call);
  notes[1].midi += 1;
  notes[3].on += ms(38);
  notes[5].on -= ms(61);
  MatchSettings settings;
  settings.tempo = case_tempo;
  const auto found = match(call, notes, settings);
  CHECK(found.notes[1].cents_off == doctest::Approx(100));
  CHECK(std::abs(found.notes[3].behind_ms - 38) < 0.6);
  CHECK(std::abs(found.notes[5].behind_ms + 61) < 0.6);
  CHECK(note_words(found.notes[1], 35) == "half step high");
  CHECK(note_words(found.notes[3], 35) == "38 ms behind");
  CHECK(note_words(found.notes[5], 35) == "61 ms ahead");
  CHECK(note_words(found.notes[0], 35).empty());
}

TEST_CASE("the octave of an answer is told") {
  const auto call = eighths(line);
  auto notes = echo(call);
  for (auto& note : notes)
    note.midi += 12;
  MatchSettings settings;
  settings.octaves = Octaves::whole;
  for (const auto& note : match(call, notes, settings).notes)
    CHECK(note.octaves == 1);
}

TEST_CASE("wrong pitches have words") {
  CHECK(pitch_words(-100) == "half step low");
  CHECK(pitch_words(200) == "whole step high");
  CHECK(pitch_words(1200) == "octave high");
  CHECK(pitch_words(50) == "50 cents high");
  CHECK(pitch_words(-2000) == "more than an octave low");
}

} // namespace
} // namespace landfall::ear
