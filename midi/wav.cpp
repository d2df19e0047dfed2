#include "midi/wav.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

namespace landfall::midi {
namespace {

constexpr std::uint32_t channels = 2;
constexpr std::uint32_t frame_bytes = channels * 2;
constexpr std::uint32_t header_bytes = 44;

void put(std::vector<char>& bytes, std::uint32_t value, int count) {
  for (int i = 0; i < count; ++i)
    bytes.push_back(static_cast<char>((value >> (8 * i)) & 0xFF));
}

void put(std::vector<char>& bytes, const char (&tag)[5]) {
  bytes.insert(bytes.end(), tag, tag + 4);
}

std::uint32_t sample(float value) {
  const float scaled = std::clamp(value, -1.0F, 1.0F) * 32767.0F;
  return static_cast<std::uint32_t>(static_cast<std::int32_t>(std::lround(scaled)));
}

} // namespace

WavWriter::WavWriter(std::ostream& out, std::uint32_t sample_rate, std::uint32_t frames)
    : out_(out) {
  std::vector<char> header;
  put(header, "RIFF");
  put(header, header_bytes - 8 + frames * frame_bytes, 4);
  put(header, "WAVE");
  put(header, "fmt ");
  put(header, 16, 4);
  put(header, 1, 2); // uncompressed
  put(header, channels, 2);
  put(header, sample_rate, 4);
  put(header, sample_rate * frame_bytes, 4);
  put(header, frame_bytes, 2);
  put(header, 16, 2);
  put(header, "data");
  put(header, frames * frame_bytes, 4);
  out_.write(header.data(), static_cast<std::streamsize>(header.size()));
}

bool WavWriter::write(std::span<const float> left, std::span<const float> right) {
  std::vector<char> bytes;
  bytes.reserve(left.size() * frame_bytes);
  for (std::size_t i = 0; i < left.size(); ++i) {
    put(bytes, sample(left[i]), 2);
    put(bytes, sample(right[i]), 2);
  }
  out_.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  return out_.good();
}

std::string render_wav(std::span<const ScheduledMessage> messages, Nanoseconds length,
                       const SynthSettings& settings, std::ostream& out) {
  if (length > std::chrono::hours(6))
    return "longer than six hours";
  const auto frames =
      static_cast<std::uint32_t>(static_cast<double>(length.count()) * settings.sample_rate / 1e9);
  WavWriter writer(out, static_cast<std::uint32_t>(settings.sample_rate), frames);
  const auto error = render_offline(messages, length, settings, [&writer](auto left, auto right) {
    return writer.write(left, right);
  });
  if (error.empty() && !out.flush())
    return "the file can't be written";
  return out.good() ? error : "the file can't be written";
}

} // namespace landfall::midi
