#pragma once

#include "midi/synth.hpp"

#include <cstdint>
#include <ostream>

namespace landfall::midi {

/// Writes 16-bit stereo RIFF/WAVE, the number of frames known beforehand.
class WavWriter {
public:
  /// Writes the header. `frames` below 2^30.
  WavWriter(std::ostream& out, std::uint32_t sample_rate, std::uint32_t frames);

  /// Full scale is 1; what lies above is clipped. False when the stream has failed.
  bool write(std::span<const float> left, std::span<const float> right);

private:
  std::ostream& out_;
};

/// Renders `messages`, sorted by time, as a WAV file of exactly `length` (at most six hours), see
/// render_offline. Returns an error in one line, or nothing. Any thread, for as long as it takes.
std::string render_wav(std::span<const ScheduledMessage> messages, Nanoseconds length,
                       const SynthSettings& settings, std::ostream& out);

} // namespace landfall::midi
