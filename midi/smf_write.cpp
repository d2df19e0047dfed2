#include "midi/message.hpp"
#include "midi/smf.hpp"

#include <algorithm>
#include <array>
#include <bit>

namespace landfall::midi::smf {
namespace {

constexpr std::int64_t longest_delta = 0x0FFF'FFFF;
constexpr int sequencer_specific = 0x7F;
constexpr std::uint8_t no_manufacturer = 0x7D; // for non-commercial use

using Bytes = std::vector<std::uint8_t>;

void put(Bytes& bytes, std::uint32_t value, int count) {
  for (int shift = 8 * (count - 1); shift >= 0; shift -= 8)
    bytes.push_back(static_cast<std::uint8_t>(value >> shift));
}

void put_tag(Bytes& bytes, const char (&tag)[5]) {
  for (std::size_t i = 0; i < 4; ++i)
    bytes.push_back(static_cast<std::uint8_t>(tag[i]));
}

/// A variable-length quantity: seven bits a byte, the highest first.
void put_length(Bytes& bytes, std::int64_t value) {
  for (int shift = 21; shift > 0; shift -= 7)
    if ((value >> shift) != 0)
      bytes.push_back(static_cast<std::uint8_t>(0x80 | ((value >> shift) & 0x7F)));
  bytes.push_back(static_cast<std::uint8_t>(value & 0x7F));
}

void put_meta(Bytes& bytes, int kind, std::span<const std::uint8_t> data) {
  bytes.push_back(0xFF);
  bytes.push_back(static_cast<std::uint8_t>(kind));
  put_length(bytes, static_cast<std::int64_t>(data.size()));
  bytes.insert(bytes.end(), data.begin(), data.end());
}

struct PutContent {
  Bytes& bytes;

  void operator()(const ShortMessage& message) const {
    bytes.insert(bytes.end(), message.bytes.begin(), message.bytes.begin() + message.size);
  }
  void operator()(Tempo tempo) const {
    Bytes data;
    put(data,
        static_cast<std::uint32_t>(
            std::clamp<std::int64_t>(tempo.micros_per_quarter, 1, 0xFF'FFFF)),
        3);
    put_meta(bytes, 0x51, data);
  }
  void operator()(const Metre& metre) const {
    const auto denominator = static_cast<unsigned>(std::clamp(metre.denominator, 1, 64));
    const bool compound = metre.numerator > 3 && metre.numerator % 3 == 0 && denominator >= 8;
    const auto clocks_a_beat = 96 / denominator * (compound ? 3 : 1);
    const Bytes data{static_cast<std::uint8_t>(std::clamp(metre.numerator, 1, 255)),
                     static_cast<std::uint8_t>(std::bit_width(denominator) - 1),
                     static_cast<std::uint8_t>(std::max(clocks_a_beat, 1U)), 8};
    put_meta(bytes, 0x58, data);
  }
  void operator()(const KeySignature& key) const {
    const Bytes data{static_cast<std::uint8_t>(std::clamp(key.sharps, -7, 7)),
                     static_cast<std::uint8_t>(key.minor ? 1 : 0)};
    put_meta(bytes, 0x59, data);
  }
  void operator()(const Text& text) const {
    const auto size = std::min<std::size_t>(text.text.size(), longest_delta);
    put_meta(bytes, static_cast<int>(text.kind),
             Bytes(text.text.begin(), text.text.begin() + static_cast<std::ptrdiff_t>(size)));
  }
};

/// The delta time; where it does not fit in 28 bits, over events that say nothing.
void put_delta(Bytes& bytes, std::int64_t delta) {
  for (; delta > longest_delta; delta -= longest_delta) {
    put_length(bytes, longest_delta);
    put_meta(bytes, sequencer_specific, std::array<std::uint8_t, 1>{no_manufacturer});
  }
  put_length(bytes, delta);
}

void put_track(Bytes& bytes, const Track& track) {
  Bytes body;
  Ticks last{0};
  const auto advance = [&body, &last](Ticks at) {
    put_delta(body, std::max<std::int64_t>((at - last).count, 0));
    last = std::max(last, at);
  };
  for (const auto& event : track.events) {
    advance(event.at);
    std::visit(PutContent{body}, event.content);
  }
  advance(track.end);
  put_meta(body, 0x2F, {});
  put_tag(bytes, "MTrk");
  put(bytes, static_cast<std::uint32_t>(body.size()), 4);
  bytes.insert(bytes.end(), body.begin(), body.end());
}

int rank(const Event& event) {
  const auto* message = std::get_if<ShortMessage>(&event.content);
  if (message == nullptr)
    return 0;
  return is_note_on(*message) ? 2 : is_note_off(*message) ? 1 : 0;
}

} // namespace

std::string Track::name() const {
  for (const auto& event : events)
    if (const auto* text = std::get_if<Text>(&event.content);
        text != nullptr && text->kind == TextKind::track_name)
      return text->text;
  return {};
}

void Track::add(Ticks at, Content content) {
  events.push_back({at, std::move(content)});
  end = std::max(end, at);
}

void Track::add_note(Ticks at, Ticks length, int channel, int note, int velocity) {
  add(at, note_on(channel, note, std::max(velocity, 1)));
  add(at + std::max(length, Ticks{1}), note_off(channel, note));
}

void Track::sort() {
  std::stable_sort(events.begin(), events.end(), [](const Event& a, const Event& b) {
    return a.at != b.at ? a.at < b.at : rank(a) < rank(b);
  });
}

std::vector<std::uint8_t> write(const File& file) {
  Bytes bytes;
  put_tag(bytes, "MThd");
  put(bytes, 6, 4);
  put(bytes, 1, 2);
  put(bytes, static_cast<std::uint32_t>(file.tracks.size()), 2);
  put(bytes, static_cast<std::uint32_t>(ticks_per_quarter), 2);
  for (const auto& track : file.tracks)
    put_track(bytes, track);
  return bytes;
}

} // namespace landfall::midi::smf
