#pragma once

#include "midi/fake_output.hpp"
#include "midi/sender_core.hpp"

#include <doctest/doctest.h>

#include <memory>
#include <string>
#include <utility>
#include <vector>

namespace doctest {
template <> struct StringMaker<std::vector<std::string>> {
  static String convert(const std::vector<std::string>& lines) {
    std::string all;
    for (const auto& line : lines)
      all += line + "; ";
    return all.c_str();
  }
};
} // namespace doctest

namespace landfall::midi::test {

inline constexpr Tempo fast{250'000};
inline const TimePoint origin{Nanoseconds{123'456'789'012'347}};

inline PlannedMessage note(std::int64_t at, std::int64_t length, int key = 60, int channel = 0) {
  return {{at}, {length}, note_on(channel, key, 90)};
}

/// A sender without its thread, on a clock moved by hand.
struct Rig {
  FakeOutput output;
  SenderLinks links{64};
  Latest<Transport> transport;
  SenderCore core{output, links, transport};
  std::uint64_t performance = 0;
  TimePoint now = origin;
  std::vector<std::unique_ptr<Chunk>> chunks;

  void start(Ticks at = {0}, Tempo tempo = fast) { transport.publish(rolling(at, now, tempo)); }

  void submit(std::int64_t from, std::int64_t to, std::vector<PlannedMessage> messages) {
    chunks.push_back(std::make_unique<Chunk>(Chunk{{from}, {to}, std::move(messages)}));
    REQUIRE(links.chunks.push({chunks.back().get(), performance}));
  }

  void stop() { links.stopped.publish({++performance, transport.version() + 1}); }

  TimePoint step() { return core.step(now); }

  /// Wakes exactly when the sender asks for it, up to `end`.
  void run_to(TimePoint end) {
    for (auto next = step(); next <= end; next = step())
      now = next;
    now = end;
    step();
  }
  void run_to(Ticks end) { run_to(transport.read().time_at(end)); }

  /// "tick message" of everything sent so far; forgets it.
  std::vector<std::string> log() {
    const auto line = transport.read();
    std::vector<std::string> lines;
    for (const auto& [message, due] : output.sent) {
      const Ticks tick = line.tick_at(due);
      CHECK(line.time_at(tick) == due);
      lines.push_back(std::to_string(tick.count) + " " + text(message));
    }
    output.sent.clear();
    return lines;
  }

  std::vector<const Chunk*> retired() {
    std::vector<const Chunk*> list;
    const Chunk* chunk = nullptr;
    while (links.retired.pop(chunk))
      list.push_back(chunk);
    return list;
  }
};

using Lines = std::vector<std::string>;

} // namespace landfall::midi::test
