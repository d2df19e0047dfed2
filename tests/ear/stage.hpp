#pragma once

#include "ear/judge.hpp"
#include "ear/tracker.hpp"
#include "practice/ground.hpp"

#include <string>

/// Performances for the ear, written as one would say them.
namespace landfall::test {

/// What is played over. `chart` is a progression, or a song's text if it has line ends.
struct Stage {
  std::string chart;
  std::string set = "arpeggio"; ///< Over chord or key as usual for it.
  std::string target = "all";
  std::optional<practice::BarRange> loop{};
  int bars = 16;
  Tempo tempo = tempo_from_bpm(120.0);
  const band::FeelBook* feels = nullptr;
  std::vector<std::pair<int, practice::Command>> commands{}; ///< With the bar where they hold.
};

/// The guitar that stages are for: standard, at the first fret in the chart's key as an E shape.
const neck::Instrument& guitar();

/// The timeline of a stage, laid out for its bars.
practice::Timeline timeline_of(const Stage& stage);
ear::Ground ground_of(const Stage& stage);

/// Reads what is played, pieces separated by `;`, at places counted in performance bars and beats
/// from 1, moved by milliseconds if wanted:
///     `2:1-30 C#4 1`         a note of one beat, 30 ms early; several: `2:1 C4+E4+G4 1`
///     `2:1 C4 1 v20 s3`      with velocity, and on string 3 (its own channel)
///     `bend 2:1+60 200`      the pitch stands 200 cents up from there; `s3` for a string's
///     `pedal 2:1 down`       and `up`
///     `glide 2:1 2:2 0 200`  a bend from 0 to 200 cents between two places
///     `shake 2:1 2:2 0 30`   vibrato around 0, 30 cents either way, five times a second
std::vector<ear::Event> events_of(const std::string& text, const ear::Ground& ground);

std::vector<ear::HeardNote> heard(const std::vector<ear::Event>& events);

/// `landed 3 half step`, `late 5 leap`, `off 9`, `rest`.
std::string words_of(const ear::JudgedChange& change);

/// The change at a place; null if there is none.
const ear::JudgedChange* change_at(const ear::Judgement& judgement, const ear::Ground& ground,
                                   const std::string& place);

/// The tick of `2:1-30`.
Ticks tick_of(const std::string& place, const ear::Ground& ground);

} // namespace landfall::test
