#pragma once

#include "midi/output.hpp"
#include "midi/synth.hpp"

#include <functional>
#include <memory>
#include <string>

namespace landfall::app {

/// An output, or what takes its place.
struct OpenedOutput {
  std::unique_ptr<midi::Output> output; ///< Never null.
  std::string port;   ///< The system's port that it is; empty for the synth, none and virtual.
  std::string words;  ///< `built-in synth out`
  std::string notice; ///< Why it is not what was asked for; empty if it is.
  /// How long its audio device has asked for nothing; empty where there is no such thing.
  std::function<Nanoseconds(TimePoint now)> idle_for;
  /// How often it had to go without sound: any thread, at any time. Empty as idle_for.
  std::function<std::uint64_t()> xruns = {};
  bool instead = false;    ///< A named port is not there; something else plays.
  bool silent = false;     ///< For want of an audio device.
  std::string driver = {}; ///< Of the synth's audio: "jack", "alsa", ...
  std::string api = {};    ///< "jack", "alsa", ... for a port.
};

/// Whether --out names something that needs no port of the system: synth, none, virtual.
bool is_own_output(const std::string& wish);

/// A port's name, cut where a line has no room for all of it.
std::string short_name(const std::string& port);

/// Opens what --out names; where that cannot be, the built-in synth, and where there is no audio
/// device, silence. `latency` is the synth's. May block for seconds: device worker only.
OpenedOutput open_output(const std::string& wish, midi::Latency latency);

} // namespace landfall::app
