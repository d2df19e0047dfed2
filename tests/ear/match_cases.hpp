#pragma once

#include "ear/match.hpp"
#include "ear/match_words.hpp"

#include <cmath>
#include <string>

namespace landfall::ear {

/// Half a second a quarter: 1 ms is 1.92 ticks.
inline constexpr Tempo case_tempo{500'000};

inline Ticks beats(double count) {
  return {std::llround(count * static_cast<double>(ticks_per_quarter))};
}

inline Ticks ms(double count) {
  return {std::llround(count * 1.92)};
}

inline HeardNote heard_note(Ticks on, int midi, int velocity = 90, Ticks length = beats(0.4)) {
  HeardNote note;
  note.on = on;
  note.off = note.silent = on + length;
  note.midi = midi;
  note.velocity = velocity;
  return note;
}

/// Eighths from beat 0 on.
inline std::vector<AskedNote> eighths(const std::vector<int>& pitches) {
  std::vector<AskedNote> call;
  for (const int midi : pitches)
    call.push_back({eighth * static_cast<std::int64_t>(call.size()), eighth, midi});
  return call;
}

/// The call, played as it is.
inline std::vector<HeardNote> echo(const std::vector<AskedNote>& call) {
  std::vector<HeardNote> notes;
  for (const auto& note : call)
    notes.push_back(heard_note(note.at, note.midi));
  return notes;
}

/// `=` matched, `x` wrong, `-` missing, `.` waiting; a letter for each note, then `+` for each
/// extra: `==x-+`.
inline std::string picture(const Match& match) {
  std::string text;
  for (const auto& note : match.notes)
    text += "=x-."[static_cast<int>(note.fate)];
  return text + std::string(match.extras.size(), '+');
}

} // namespace landfall::ear
