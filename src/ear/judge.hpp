#pragma once

#include "ear/ground.hpp"
#include "ear/heard.hpp"
#include "ear/settings.hpp"
#include "ear/verdict.hpp"

#include <span>

namespace landfall::ear {

/// Judges the notes before `until`, and all changes whose verdict is known for good by then, from
/// the first on. Pure: the same ground, notes and settings give the same verdicts, whatever comes
/// later, so that live and from a file they are the same. Without `until` the performance is over:
/// all changes of the ground are judged. Notes in the order of their onsets.
Judgement judge(const Ground& ground, std::span<const HeardNote> notes, const Settings& settings,
                std::optional<Ticks> until = std::nullopt);

/// Whether a change is judged at all: not in a space, nor where its chord has no tone of the
/// target.
bool asks(const Ground& ground, const Change& change);

/// Whether a change's verdict is known for good once all events up to `now` were heard: an eighth
/// after it (at least a sixteenth and 240 ms) where the arrival itself lands, else by final_at().
bool is_decided(const Ground& ground, std::size_t change, std::span<const HeardNote> notes,
                const Settings& settings, Ticks now);

/// One change by itself, with whatever was played up to now. `notes` must hold the last 24 that
/// began before the two quarters before it.
JudgedChange judge_change(const Ground& ground, std::size_t change,
                          std::span<const HeardNote> notes, const Settings& settings);

/// Changes in their order, chorus by chorus: none is empty. The spans are of `changes`.
std::vector<std::span<const JudgedChange>> by_chorus(std::span<const JudgedChange> changes);

/// Adds up.
Summary summary_of(std::span<const JudgedChange> changes, std::span<const JudgedNote> notes);

/// What a note is as it is struck, before anything that follows is known: never an approach. Inside
/// the window before a change that the ground holds already, whatever is better over either chord.
NoteClass class_at_once(const Ground& ground, Ticks at, int midi);

/// The fret of a note where its string is known.
std::optional<int> fret_of(const Ground& ground, const HeardNote& note);

/// Whether a note lies within hand and reach; none where its string is not known.
std::optional<bool> in_position(const Ground& ground, const HeardNote& note);

/// Judges while it goes on: each call of advance() judges what has been decided since the last.
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
