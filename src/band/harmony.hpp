#pragma once

#include "song/form.hpp"

#include <vector>

namespace landfall::band {

/// A stretch of one chorus under one chord.
struct Segment {
  Ticks from;
  Ticks to;
  const theory::Chord* chord = nullptr; ///< None is N.C.
  theory::Key key;
};

/// The chords of a chorus as stretches, equal neighbours joined, and what the next chorus opens
/// with. Points into the forms, which must outlive it.
class Harmony {
public:
  /// `next` may be null: then nothing follows.
  Harmony(const song::Form& form, const song::Form* next);

  const std::vector<Segment>& segments() const { return segments_; }

  /// The stretch at `tick`; before the top the first one, from form.length on the next chorus's
  /// first (or the last one, if nothing follows).
  const Segment& at(Ticks tick) const;

  /// The stretch after `segment`, which must be one of segments(); null behind the last when
  /// nothing follows.
  const Segment* after(const Segment& segment) const;

  /// Puts `chord` in force from `from` to the end.
  void end_with(const theory::Chord& chord, Ticks from);

private:
  std::vector<Segment> segments_;
  Segment opening_;
  bool followed_ = false;
};

/// The chord a form comes home to: its own first chord on the tonic, if it has one; else the
/// tonic triad.
theory::Chord home_chord(const song::Form& form);

} // namespace landfall::band
