#pragma once

#include "app/command_line.hpp"
#include "app/devices.hpp"
#include "midi/input_mode.hpp"
#include "theory/result.hpp"

#include <optional>

namespace landfall::app {

/// What --mode takes.
inline const std::vector<std::string> mode_names{"one", "strings", "mpe", "mpe-upper"};

/// How the player's input is to be read, as typed; what was not given stays as it is remembered.
struct ModeWish {
  std::optional<midi::InputMode> mode;
  std::optional<int> base_channel;   ///< 0 to 15.
  std::optional<int> bend_semitones; ///< 0 takes what the input says.

  midi::InputSetup over(midi::InputSetup setup) const;
};

/// --out, --latency, --in, --teacher and --controls; --send-clock and --follow-clock; --mode,
/// --base-channel and --bend-range.
struct DeviceOptions {
  std::string out, in, teacher, mode, controls, clock, latency;
  bool sends_clock = false;
  std::vector<std::string> parts; ///< As read_voice_route reads them.
  std::string thru_channels;      ///< As read_channels reads them.
  int base_channel = 0;           ///< From 1; 0: not given.
  int bend_semitones = -1;        ///< -1: not given.

  void add(CommandLine& app);
  ModeWish mode_wish() const;
};

/// The routes of --part over those given. The error is one line.
Result<VoiceRoutes, std::string> routes_of(const DeviceOptions& options, VoiceRoutes routes);

/// `1-3, 5, 16`, `all`: bit n for channel n + 1. None if it can't be read.
std::optional<std::uint16_t> read_channels(std::string_view text);
std::string channels_text(std::uint16_t channels);

/// The bindings of --controls, or else the player's own; `problem` is one line about those.
Result<midi::ControlMap, std::string> controls_of(const DeviceOptions& options,
                                                  std::string& problem);

} // namespace landfall::app
