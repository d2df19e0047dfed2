#pragma once

#include "neck/fingering.hpp"
#include "neck/tones.hpp"

namespace landfall::neck {

/// What a grip of a chord must and may hold, and how good one is.
class GripJudge {
public:
  GripJudge(const Fretboard& board, const theory::Chord& chord);

  /// Whether the tone (pitch class) may sound at all.
  bool allows(int pitch) const { return has(allowed_, pitch); }

  /// Whether every tone that tells the chord is there, and the lowest is the right one.
  bool complete(const FretRow& row) const;

  /// Four voices or more, no tone twice.
  bool is_voicing(const FretRow& row) const;

  /// The cost of the sound and of the muting; the hand's strain comes on top.
  double cost(const FretRow& row) const;

private:
  bool must_have_bass() const { return board_.count > 4 && !board_.reentrant; }
  int lowest_pitch(const FretRow& row) const;
  bool is_triad() const;

  struct Look;
  Look look(const FretRow& row) const;
  double cost_of_tones(const Look& look) const;
  double cost_of_silence(const FretRow& row, const Look& look) const;
  double cost_of_place(const Look& look) const;

  const Fretboard& board_;
  ChordTones tones_;
  int bass_ = 0; ///< Pitch classes from here on.
  PitchClasses allowed_ = 0, required_ = 0, optional_ = 0;
  PitchClasses either_ = 0; ///< Of these one at least.
};

} // namespace landfall::neck
