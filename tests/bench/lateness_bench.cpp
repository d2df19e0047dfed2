// Prints how late a sender's messages reach its output beside how late a bare timer loop wakes, at
// the same priority and timer slack, taking turns in one run, with one core busy: in four rounds of
// a thousand events, or as many rounds as the only argument says.

#include "midi/bare_timer.hpp"
#include "midi/message.hpp"
#include "midi/sender.hpp"

#include <atomic>
#include <cstdio>
#include <cstdlib>
#include <memory>
#include <semaphore>
#include <thread>

using namespace landfall;
using namespace landfall::midi;

namespace {

constexpr int events_a_round = 1'000;
// 1.25 ms between messages: 4 ticks at 200 bpm
constexpr Tempo tempo{300'000};
constexpr Ticks distance{4};

struct Measured {
  LatenessHistogram lateness;
  int sent = 0;
  std::binary_semaphore done{0};
};

/// Reads the clock itself when a message comes.
class MeasuringOutput final : public Output {
public:
  explicit MeasuringOutput(Measured& measured) : measured_(measured) {}

  void send(std::span<const std::uint8_t>, TimePoint due) noexcept override {
    measured_.lateness.add(Clock::now() - due);
    if (++measured_.sent % events_a_round == 0)
      measured_.done.release();
  }

private:
  Measured& measured_;
};

/// Keeps a core busy as long as it lives.
class BusyCore {
public:
  BusyCore()
      : thread_([this] {
          while (!ending_.load(std::memory_order_relaxed)) {
          }
        }) {}
  ~BusyCore() {
    ending_ = true;
    thread_.join();
  }
  BusyCore(const BusyCore&) = delete;
  BusyCore& operator=(const BusyCore&) = delete;

private:
  std::atomic<bool> ending_{false};
  std::thread thread_;
};

void play(Sender& sender, Latest<Transport>& transport, Measured& measured) {
  Chunk chunk{{0}, events_a_round * distance + quarter, {}};
  for (int i = 0; i < events_a_round; ++i)
    chunk.messages.push_back({i * distance + sixteenth, {}, control(0, 11, i % 128)});
  sender.submit(std::move(chunk));
  Transport rolling;
  rolling.rolling = true;
  rolling.anchor_time = Clock::now();
  rolling.tempo = tempo;
  transport.publish(rolling);
  sender.wake();
  measured.done.acquire();
  sender.stop();
}

void print(const char* name, const LatenessSummary& summary) {
  std::printf("\"%s\":{\"events\":%llu,\"median_us\":%.2f,\"p99_us\":%.2f,\"worst_us\":%.2f}", name,
              static_cast<unsigned long long>(summary.events), summary.median_us, summary.p99_us,
              summary.worst_us);
}

} // namespace

int main(int count, char** words) {
  const int rounds = count > 1 ? std::atoi(words[1]) : 4;
  const auto measured = std::make_unique<Measured>();
  const BusyCore busy;
  Latest<Transport> transport;
  LatenessHistogram bare;
  Sender sender(std::make_unique<MeasuringOutput>(*measured), transport);
  for (int round = 0; round < rounds; ++round) {
    measure_bare_timer(events_a_round, duration_of(distance, tempo), bare);
    play(sender, transport, *measured);
  }
  std::printf("{\"realtime\":%s,", sender.is_realtime() ? "true" : "false");
  print("sender", measured->lateness.summary());
  std::printf(",");
  print("bare", bare.summary());
  std::printf(",\"drops\":%llu}\n", static_cast<unsigned long long>(sender.report().drops));
  return 0;
}
