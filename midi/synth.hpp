#pragma once

#include "midi/output.hpp"
#include "midi/plan.hpp"

#include <chrono>
#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

/// The built-in General MIDI synth (FluidSynth), where the program was built with it.
namespace landfall::midi {

/// How soon the synth sounds, and how easily a busy machine makes it stutter.
enum class Latency { usual, low };

/// "usual" or "low".
std::string_view latency_name(Latency latency);
std::optional<Latency> latency_of(std::string_view name);

struct SynthSettings {
  std::string driver;     ///< Of FluidSynth, "alsa", "jack", ...; empty: whatever is there.
  std::string sound_font; ///< A file; empty: the system's.
  /// The band at medium peaks near 0.14 of full scale: a moderate level. A soft limiter keeps any
  /// playing below full scale.
  double gain = 0.45;
  double sample_rate = 48'000;
  int period_frames = 256; ///< Of the audio device, where it lets us choose.
  int periods = 2;
  /// From a deadline to the moment by which its message has come.
  Nanoseconds margin = std::chrono::milliseconds{2};
};

SynthSettings settings_for(Latency latency);

/// An output that sounds, or the silent one with the reason why it is silent.
struct SynthStart {
  std::unique_ptr<Output> output; ///< Never null.
  bool sounding = false;
  std::string status; ///< One line for the player: what plays, or "no audio device: silent".
  /// How long the audio device has asked for nothing; above a second or two it is gone. Any thread,
  /// as long as the output lives; never null.
  std::function<Nanoseconds(TimePoint now)> idle_for;
  std::string driver = {}; ///< Of FluidSynth; empty where nothing sounds.
  /// How often the audio device had to go without sound: see Underruns. Any thread, at any time.
  /// Empty where nothing sounds.
  std::function<std::uint64_t()> xruns = {};
};

/// Whether this program was built with a synth.
bool has_synth();

/// The drivers worth trying on this machine, in order. Device worker.
std::vector<std::string> audio_drivers();

/// Opens audio and loads the sound font; takes at most `limit` for each driver that it tries, and
/// leaves behind in a thread of its own what hangs. Device worker; nothing throws.
///
/// The output turns every deadline into the same later moment, a period and `margin` after it, and
/// hits it within 32 frames: sound is rendered in slices of 64 frames, and what is due goes
/// in before each. Destroying the output closes the device and may block.
SynthStart start_synth(const SynthSettings& settings,
                       std::chrono::milliseconds limit = std::chrono::milliseconds(2500));

/// A message with its time from the start of the sound.
struct ScheduledMessage {
  Nanoseconds at;
  ShortMessage message;
};

/// Takes one slice of sound, at most 64 frames, left and right; false stops the rendering.
using SliceTaker = std::function<bool(std::span<const float> left, std::span<const float> right)>;

/// Plays `messages`, sorted by time, into `take` as fast as can be, the same way as start_synth's
/// output does; exactly as many frames as `length` has. Returns an error in one line, or nothing.
/// Any thread, for as long as it takes.
std::string render_offline(std::span<const ScheduledMessage> messages, Nanoseconds length,
                           const SynthSettings& settings, const SliceTaker& take);

} // namespace landfall::midi
