#pragma once

#include "midi/plan.hpp"
#include "midi/smf.hpp"
#include "practice/session.hpp"

#include <memory>

namespace landfall::app {

/// A passage of a performance that was recorded, to be heard again. A value; reads no clock.
///
/// It is sent on ticks of its own, `sent`: the passage begins at 0, and where it loops, pass after
/// pass follows. A place is the performance tick that a sent tick stands for.
struct Replay {
  std::shared_ptr<const practice::Timeline> timeline; ///< Never null.
  std::shared_ptr<const song::Song> song;             ///< Never null.
  std::vector<midi::PlannedMessage> messages;         ///< Sorted; at performance ticks.
  Ticks from; ///< The passage, performance ticks; at least one.
  Ticks to;
  double speed = 1.0; ///< 1 as it was played, 0.5 half as fast; above 0.
  bool loops = false;

  Ticks length() const { return to - from; }
  /// How many passes are over at `sent`.
  std::int64_t pass_at(Ticks sent) const;
  Ticks place_at(Ticks sent) const;
  Tempo tempo_at(Ticks sent) const;
  /// The first tempo that takes over after `sent`.
  std::optional<std::pair<Ticks, Tempo>> tempo_after(Ticks sent) const;

  /// One pass as a sender takes it: what had been set before the passage first (sounds, bends,
  /// controllers), notes cut off at its end.
  midi::Chunk pass(std::int64_t number) const;
};

/// All that a file of ours sends, from performance tick `from` on: its notes with their lengths.
/// The player's track sounds with the lead sound, on channels that the band leaves free.
std::vector<midi::PlannedMessage> messages_of(const midi::smf::File& file, Ticks from);

} // namespace landfall::app
