#pragma once

#include "ear/ground.hpp"
#include "ear/heard.hpp"
#include "ear/verdict.hpp"

#include <span>

namespace landfall::ear {

struct Settings {
  Ticks window = eighth;     ///< Either side of a change: a sixteenth to a quarter.
  std::optional<int> split;  ///< MIDI notes below it are not judged.
  double shortest_ms = 20.0; ///< A note that is shorter ...
  int ghost_velocity = 24;   ///< ... and softer is a ghost: not judged.

  bool operator==(const Settings&) const = default;
};

/// Judges all changes whose verdict `until` cannot alter any more, from the first on, and the notes
/// before it. Pure: the same ground, notes and settings give the same verdicts, whatever comes
/// later, so that live and from a file they are the same. Notes in the order of their onsets.
Judgement judge(const Ground& ground, std::span<const HeardNote> notes, const Settings& settings,
                Ticks until);

/// From when on a change can be judged for good: no event after it matters.
Ticks final_at(const Ground& ground, const Change& change);

/// One change by itself. `notes` must hold all that began within two bars before it, and up to
/// final_at().
JudgedChange judge_change(const Ground& ground, std::size_t change,
                          std::span<const HeardNote> notes, const Settings& settings);

/// Whether a note lies within hand and reach; none where its string is not known.
std::optional<bool> in_position(const Ground& ground, const HeardNote& note);

/// Adds up.
Summary summary_of(std::span<const JudgedChange> changes, std::span<const JudgedNote> notes);

/// What a note is as it is struck, before anything that follows is known: never an approach.
NoteClass class_at_once(const Ground& ground, Ticks at, int midi);

/// Judges while it goes on: each call of advance() judges what has become final since the last.
class LiveJudge {
public:
  explicit LiveJudge(Settings settings = {}) : settings_(settings) {}

  /// `now` is the tick up to which all events have arrived. Returns how many changes are new.
  std::size_t advance(const Ground& ground, std::span<const HeardNote> notes, Ticks now);

  const std::vector<JudgedChange>& changes() const { return changes_; }
  void clear();

private:
  Settings settings_;
  std::vector<JudgedChange> changes_;
  std::size_t next_ = 0; ///< Of the ground's changes.
};

} // namespace landfall::ear
