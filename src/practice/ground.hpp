#pragma once

#include "ear/ground.hpp"
#include "practice/session.hpp"

namespace landfall::practice {

/// What the ear stands on, made from the timeline as performed. It may be built piece by piece
/// while the band plays, or at once from a take: the same timeline gives the same ground.
class GroundBuilder {
public:
  /// What a timeline does not hold. All must outlive the builder.
  struct Given {
    const neck::Instrument* instrument = nullptr;  ///< Never null.
    const band::FeelBook* feels = nullptr;         ///< For their swing; null: all straight.
    const theory::FittingTable* fitting = nullptr; ///< Null for the default.
  };

  explicit GroundBuilder(Given given);

  /// Up to `until`, exclusive, which must have been played: what lies before is never looked at
  /// again. Pieces of any size.
  void extend(const Timeline& timeline, Ticks until);

  const ear::Ground& ground() const { return ground_; }

private:
  void extend_tempo(const Timeline& timeline, Ticks until);
  void add_stretch(const Timeline& timeline, const song::Stretch& stretch, Ticks until);
  void add_chord(const Timeline& timeline, const song::Stretch& stretch, const song::Bar& bar,
                 const song::ChordAt& chord, Ticks from, Ticks to);
  void add_change(const song::Stretch& stretch, const song::Bar& bar, const song::ChordAt& chord,
                  Ticks at);
  void add_span(ear::Span span);
  ear::Span span_of(const Choice& choice, const song::Stretch& stretch, const song::Bar& bar,
                    const song::ChordAt& chord) const;

  Given given_;
  ear::Ground ground_;
  Ticks done_; ///< Up to here all is built.
  std::optional<Ticks> tempo_done_;
  std::optional<theory::Chord> chord_before_;
  bool any_before_ = false;
  int bars_since_ = 0; ///< Since the last change.
  std::optional<Ticks> bar_before_;
};

/// The ground of a whole performance, up to `until`.
ear::Ground ground_of(const Timeline& timeline, const GroundBuilder::Given& given, Ticks until);

} // namespace landfall::practice
