#pragma once

#include "midi/input_event.hpp"

#include <array>
#include <optional>
#include <string_view>

/// How an input spreads what is played over MIDI's channels.
namespace landfall::midi {

enum class InputMode : std::uint8_t {
  one_channel, ///< A keyboard; channels mean nothing, though each bends on its own.
  per_string,  ///< Pitch-to-MIDI guitars: MIDI 1.0 mode 4, a channel for each string.
  mpe_lower,   ///< MIDI Polyphonic Expression, channel 1 manages 2 upwards.
  mpe_upper,   ///< The same, channel 16 manages 15 downwards.
};

/// `one channel`, `one channel per string`, `MPE lower zone`, `MPE upper zone`.
std::string_view mode_name(InputMode mode);

/// The mode of a name, or of its short form for options: `one`, `strings`, `mpe`, `mpe-upper`.
std::optional<InputMode> mode_of(std::string_view name);

/// Half steps of a full bend where the input does not say: 2, 12 or 48.
int usual_bend_semitones(InputMode mode);

/// Notes that a pitch-to-MIDI converter mistook. They light at once; whether they are judged is
/// known after `hold`, unless they are struck at `velocity_floor` or harder.
struct GhostFilter {
  Nanoseconds hold{20'000'000};
  int velocity_floor = 48; ///< 0 judges every note at once.

  bool operator==(const GhostFilter&) const = default;
};

/// All that is remembered of one input.
struct InputSetup {
  static constexpr std::size_t most_strings = 12;

  InputMode mode = InputMode::one_channel;
  int base_channel = 0;               ///< Of string 1, 0 to 15; strings count upwards from it.
  int strings = 6;                    ///< 1 to most_strings.
  std::optional<int> bend_semitones;  ///< What the player says; else RPN 0, else the usual.
  std::optional<Nanoseconds> latency; ///< From finger to message; none before calibration.
  std::array<Nanoseconds, most_strings> string_latency{}; ///< On top of it; string 1 is first.

  bool calibrated() const { return latency.has_value(); }
  bool operator==(const InputSetup&) const = default;
};

/// The string of a channel, 1 is the highest; none where the mode has no strings.
std::optional<int> string_of(const InputSetup& setup, int channel);

/// How late what comes in on `channel` is; nothing before calibration.
Nanoseconds latency_of(const InputSetup& setup, int channel);

/// Only guitars make ghosts: elsewhere every note is judged at once.
GhostFilter ghost_filter_of(const InputSetup& setup);

/// Watches which channels carry notes, to propose a mode to the player. One thread; real-time safe.
class ModeDetector {
public:
  void hear(const ShortMessage& message) noexcept;

  /// What the messages so far look like, if that is not `present`: six to eight channels in a row
  /// are strings, more are MPE, and so is an MPE configuration message (RPN 6 on channel 1 or 16).
  std::optional<InputSetup> proposal(const InputSetup& present) const;

  void forget() noexcept { *this = {}; }

private:
  static constexpr int no_parameter = 0x3FFF;

  std::uint16_t noted_ = 0;                                  ///< Bit n: channel n carried a note.
  std::array<int, 2> parameter_{no_parameter, no_parameter}; ///< Chosen on channels 1 and 16.
  std::optional<InputMode> told_;
};

} // namespace landfall::midi
