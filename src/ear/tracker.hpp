#pragma once

#include "ear/heard.hpp"

#include <array>

namespace landfall::ear {

/// Makes notes of events. Survives any order of events: an end without a beginning says nothing, a
/// second beginning of a note ends the first, and a string sounds one note at a time: a new one on
/// it ends the old. A bend belongs to every note of its channel that still rings, so that a release
/// after the finger is heard too; it stays for the notes that follow. Events are to come in the
/// order of their ticks for each channel, up to a little between channels. One thread.
class Tracker {
public:
  void take(const Event& event);

  /// In the order of their onsets; the last ones may still change.
  const std::vector<HeardNote>& notes() const { return notes_; }

  /// Ends what still sounds, as where an input goes away.
  void end_all(Ticks at);

  /// Forgets everything, as at a new start.
  void clear();

  /// Forgets notes that had fallen silent before `tick`, but keeps the last `keep`. A note that
  /// hangs keeps no more than some thousands of others.
  void forget_before(Ticks tick, std::size_t keep);

private:
  void begin(const NoteOn& on);
  bool end_string(const NoteOn& on);
  void end(const NoteOff& off);
  void bend(const Bend& bend);
  void pedal(const Pedal& pedal);

  std::vector<HeardNote> notes_;
  std::array<double, 16> cents_{};
  std::array<bool, 16> held_{}; ///< By the pedal.
};

} // namespace landfall::ear
