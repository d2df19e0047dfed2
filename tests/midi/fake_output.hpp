#pragma once

#include "midi/clock_out.hpp"
#include "midi/message.hpp"
#include "midi/output.hpp"
#include "time/transport.hpp"

#include <algorithm>
#include <map>
#include <string>
#include <utility>
#include <vector>

namespace landfall::midi::test {

/// What an output was given.
struct Sent {
  ShortMessage message;
  TimePoint due;

  bool operator==(const Sent&) const = default;
};

/// A port at the byte edge: keeps all it is given.
class FakeOutput final : public Output {
public:
  void send(std::span<const std::uint8_t> bytes, TimePoint due) noexcept override {
    Sent item{{}, due};
    item.message.size = static_cast<std::uint8_t>(bytes.size());
    std::copy_n(bytes.begin(), std::min<std::size_t>(bytes.size(), 3), item.message.bytes.begin());
    sent.push_back(item);
  }

  std::vector<Sent> sent;
};

/// A transport that stands at `tick` at `time`, moving.
inline Transport rolling(Ticks tick, TimePoint time, Tempo tempo) {
  Transport transport;
  transport.rolling = true;
  transport.anchor_tick = tick;
  transport.anchor_time = time;
  transport.tempo = tempo;
  return transport;
}

/// Notes that were switched on more often than off, as a receiver would count them.
inline std::map<std::pair<int, int>, int> hanging(const std::vector<Sent>& sent) {
  std::map<std::pair<int, int>, int> notes;
  for (const auto& [message, due] : sent) {
    const std::pair key{channel_of(message), note_of(message)};
    if (is_note_on(message))
      ++notes[key];
    else if (is_note_off(message))
      --notes[key];
  }
  std::erase_if(notes, [](const auto& entry) { return entry.second <= 0; });
  return notes;
}

inline std::vector<std::uint8_t> bytes_of(const ShortMessage& m) {
  return {m.bytes.begin(), m.bytes.begin() + m.size};
}

/// "on 0 60 90", "off 0 60", "cc 0 64 0", ... for readable failures.
inline std::string text(const ShortMessage& m) {
  const auto numbers = [&m](const char* name, int count) {
    std::string line = std::string(name) + " " + std::to_string(channel_of(m));
    for (int i = 1; i <= count; ++i)
      line += " " + std::to_string(m.bytes[static_cast<std::size_t>(i)]);
    return line;
  };
  if (is_note_on(m))
    return numbers("on", 2);
  if (is_note_off(m))
    return numbers("off", 1);
  if (m.bytes[0] == song_position_byte)
    return "position " + std::to_string(m.bytes[1] + 128 * m.bytes[2]);
  for (const auto& [byte, name] : {std::pair{clock_byte, "clock"},
                                   {start_byte, "start"},
                                   {continue_byte, "continue"},
                                   {stop_byte, "stop"}})
    if (m.bytes[0] == byte)
      return name;
  switch (status_of(m)) {
  case Status::control:
    return numbers("cc", 2);
  case Status::program:
    return numbers("program", 1);
  case Status::bend:
    return numbers("bend", 2);
  default:
    return numbers("other", 2);
  }
}

} // namespace landfall::midi::test
