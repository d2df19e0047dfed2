#pragma once

#include "time/ticks.hpp"

#include <optional>
#include <variant>

/// What the player does, as the ear is told it. All moments are performance ticks with the input's
/// latency already removed, so that the same events give the same verdicts, live or from a file.
namespace landfall::ear {

/// A finger down. A note is ended by a NoteOff of its channel and note.
struct NoteOn {
  Ticks at;
  int channel = 0;           ///< 0 to 15.
  int midi = 60;             ///< 0 to 127.
  int velocity = 1;          ///< 1 to 127.
  std::optional<int> string; ///< 1 is the highest; known with one channel a string.

  bool operator==(const NoteOn&) const = default;
};

/// A finger up.
struct NoteOff {
  Ticks at;
  int channel = 0;
  int midi = 60;

  bool operator==(const NoteOff&) const = default;
};

/// Where the pitch of a channel stands from now on.
struct Bend {
  Ticks at;
  int channel = 0;
  double cents = 0.0;

  bool operator==(const Bend&) const = default;
};

/// The sustain pedal of a channel, or of every channel.
struct Pedal {
  Ticks at;
  std::optional<int> channel;
  bool down = false;

  bool operator==(const Pedal&) const = default;
};

using Event = std::variant<NoteOn, NoteOff, Bend, Pedal>;

} // namespace landfall::ear
