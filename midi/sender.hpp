#pragma once

#include "midi/alarm.hpp"
#include "midi/output.hpp"
#include "midi/realtime.hpp"
#include "midi/sender_links.hpp"

#include <atomic>
#include <memory>
#include <thread>

namespace landfall::midi {

/// What a sender did, for `--timing` and the status line.
struct SenderReport {
  LatenessSummary lateness;
  HistogramCounts histogram{}; ///< Of the same.
  bool realtime = false;       ///< As Sender::is_realtime.
  std::uint64_t drops = 0; ///< Messages lost anywhere: full queues, too late, refused by the port.
};

/// One output with a real-time thread of its own: performs plans at absolute deadlines on the
/// transport that all senders share, and passes live messages on at once.
///
/// "Control thread": one thread at a time, the same for all functions so marked.
class Sender {
public:
  struct Options {
    int priority = sender_priority;
    std::size_t message_capacity = 1024; ///< Of the immediate queue and of each thru lane.
  };

  /// Starts the thread. `transport` must outlive the sender (for ever, if it may be abandoned).
  Sender(std::unique_ptr<Output> output, const Latest<Transport>& transport);
  Sender(std::unique_ptr<Output> output, const Latest<Transport>& transport, Options options);

  /// Ends all notes, then the thread, then the output. Waits as long as the output blocks: ask
  /// blocked_for first. On the device worker.
  ~Sender();

  Sender(const Sender&) = delete;
  Sender& operator=(const Sender&) = delete;

  /// Hands a plan over; frees what came back. False, and the chunk is lost, when 64 are with the
  /// sender already. Control thread.
  bool submit(Chunk chunk);

  /// Sends a message as soon as can be; `when` is when it was played or asked for. False when the
  /// queue is full. Control thread; real-time safe.
  bool send_now(const ShortMessage& message, TimePoint when) noexcept;

  /// Ends the performance: note-offs for what the plan has sounding; forgets all plans, and goes by
  /// no transport that was published before. A new performance starts with submit() and then a
  /// newly published transport. Notes played live go on. Control thread.
  void stop() noexcept;

  /// Note-offs for all that sounds, then sustain, all notes and all sound off and bend to the
  /// centre on all channels. The plan goes on. Any thread; safe in a signal handler.
  void panic() noexcept;

  /// Channels whose note-ons are dropped, bit n for channel n; what sounds on a channel newly muted
  /// ends. Any thread; real-time safe.
  void mute(std::uint16_t channels) noexcept;

  /// Whether MIDI clock, start, stop, continue and song position are sent. Any thread; real-time
  /// safe.
  void send_clock(bool sends) noexcept;

  /// Looks at the transport again: to be called after each that is published. Any thread;
  /// real-time safe.
  void wake() noexcept;

  /// A way in for an input callback, of SenderLinks::thru_lanes; wake() after each push.
  ThruLane& thru(std::size_t lane) noexcept { return links_.thru[lane]; }

  /// Any thread.
  SenderReport report() const;

  /// In one call for longer than this, an output is blocked.
  static constexpr Nanoseconds blocked_limit{2'000'000'000};

  /// How long the output has been in one call; 0 when it is not. Any thread; real-time safe.
  Nanoseconds blocked_for(TimePoint now) const noexcept;

  /// Whether the thread runs at real-time priority. Any thread, soon after the start.
  bool is_realtime() const noexcept { return realtime_; }

  /// Gives up a sender whose output blocks: its thread runs only when the machine is idle and ends
  /// should the call ever return; the object is leaked. The process must then end with _exit.
  static void abandon(std::unique_ptr<Sender> sender) noexcept;

private:
  void run() noexcept;
  void keep_memory() const noexcept;
  void free_retired();

  std::unique_ptr<Output> output_;
  const Latest<Transport>& transport_;
  const Options options_;
  SenderLinks links_;
  Alarm alarm_;
  std::atomic<bool> ending_{false};
  std::atomic<bool> abandoned_{false};
  std::atomic<bool> realtime_{false};
  std::uint64_t performance_ = 0;
  std::size_t chunks_out_ = 0;
  std::atomic<std::uint64_t> chunk_drops_{0};
  std::thread thread_;
};

/// Panics every sender there is and mutes all its channels: for a crash handler, which then waits a
/// tenth of a second and raises the signal again. False where there is none. Safe in a signal
/// handler.
bool panic_all_senders() noexcept;

} // namespace landfall::midi
