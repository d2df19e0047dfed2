#pragma once

#include "band/band.hpp"
#include "midi/smf.hpp"
#include "midi/synth.hpp"
#include "practice/session.hpp"

#include <span>
#include <string>
#include <vector>

namespace landfall::app {

/// Plays a session of so many choruses to its end without a clock: every plan that it makes.
std::vector<practice::Plan> plan_to_the_end(practice::Session& session);

/// The notes that plans come to, each plan replacing what lies at or after its start. Sorted.
std::vector<band::Event> performed(std::span<const practice::Plan> plans);

/// A message that the player sent, at its performance tick.
struct PlayerMessage {
  Ticks at;
  midi::ShortMessage message;
};

/// What goes into a file.
struct Recorded {
  const practice::Timeline* timeline = nullptr; ///< Never null.
  std::span<const practice::Plan> plans;
  const band::FeelBook* feels = nullptr; ///< Never null.
  std::string title;
  Ticks from; ///< Performance ticks: the file's start and end.
  Ticks to;
  std::vector<band::Part> parts{band::all_parts.begin(), band::all_parts.end()};
  std::span<const PlayerMessage> player; ///< A track of its own, where there are any.
};

/// A standard MIDI file: a first track with title, tempo, metre, key, chords as markers and
/// sections as cue points; then a track for each part, and the player's.
midi::smf::File file_of(const Recorded& recorded);

/// The same as messages with their times, for the synth.
std::vector<midi::ScheduledMessage> schedule_of(const Recorded& recorded);

/// Where a tick of the file lies in time.
Nanoseconds time_of(const Recorded& recorded, Ticks performance_tick);

} // namespace landfall::app
