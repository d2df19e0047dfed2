#pragma once

#include "midi/lateness.hpp"
#include "midi/latest.hpp"
#include "midi/plan.hpp"
#include "midi/queue.hpp"
#include "midi/thru_map.hpp"
#include "time/transport.hpp"

#include <array>
#include <atomic>
#include <cstdint>

namespace landfall::midi {

/// A message to be sent at once; `time` is when it was played or asked for.
struct TimedMessage {
  TimePoint time;
  ShortMessage message;
};

/// The way of one input's messages into a sender, past everything slower. One input callback
/// pushes, the sender pops; the settings may be written by any thread.
struct ThruLane {
  explicit ThruLane(std::size_t capacity) : queue(capacity) {}

  Queue<TimedMessage> queue;
  std::atomic<bool> open{false}; ///< While closed, messages are dropped; closing ends its notes.
  std::atomic<std::uint32_t> cuts{0};   ///< One more than before ends its notes; by any thread.
  Latest<ThruMap> map{straight_thru()}; ///< By one thread; another one ends its notes.

  /// Grows with every cut and with every message that the queue refused: any of these may have been
  /// the end of a note. Any thread.
  std::uint64_t losses() const noexcept {
    return queue.drops() + cuts.load(std::memory_order_acquire);
  }
};

/// A plan and the performance that it belongs to.
struct ChunkEntry {
  const Chunk* chunk = nullptr;
  std::uint64_t performance = 0;
};

/// The end of a performance: the number of the next one, and the first transport that may belong
/// to it. Chunks and transports before these are void.
struct StopMark {
  std::uint64_t performance = 0;
  std::uint64_t first_transport = 0;
};

/// All that passes between a sender's real-time thread and the rest. The directions are fixed:
/// each queue has one pushing and one popping thread.
struct SenderLinks {
  static constexpr std::size_t thru_lanes = 4;
  static constexpr std::size_t chunk_limit = 64; ///< Plans with the sender at once.

  explicit SenderLinks(std::size_t message_capacity)
      : immediate(message_capacity), thru{ThruLane(message_capacity), ThruLane(message_capacity),
                                          ThruLane(message_capacity), ThruLane(message_capacity)} {}

  Queue<ChunkEntry> chunks{chunk_limit};    ///< Control thread to sender.
  Queue<const Chunk*> retired{chunk_limit}; ///< Sender to control thread, which frees them.
  Queue<TimedMessage> immediate;            ///< Control thread to sender.
  std::array<ThruLane, thru_lanes> thru;    ///< Input callbacks to sender.
  Latest<StopMark> stopped;                 ///< Control thread to sender.
  std::atomic<std::uint32_t> panics{0};     ///< Any thread to sender: one more than before.
  std::atomic<std::uint16_t> muted{0};      ///< Any thread to sender: bit n mutes channel n.
  std::atomic<bool> clock{false};           ///< Any thread to sender: MIDI clock is to be sent.

  LatenessHistogram lateness;                 ///< Of planned messages; written by the sender.
  std::atomic<std::uint64_t> skipped{0};      ///< Note-ons too late to be sent.
  std::atomic<std::int64_t> sending_since{0}; ///< Clock nanoseconds while in Output::send, else 0.
};

} // namespace landfall::midi
