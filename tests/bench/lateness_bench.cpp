// Prints how late a sender's messages reach its output beside how late a bare timer loop wakes, at
// the same priority and timer slack, taking turns in one run: on a machine that does nothing else,
// with one core busy, and with all of them. In four rounds each of a thousand events, or as many
// rounds as the only argument says.

#include "midi/bare_timer.hpp"
#include "midi/message.hpp"
#include "midi/sender.hpp"

#include <algorithm>
#include <atomic>
#include <cstdio>
#include <cstdlib>
#include <memory>
#include <semaphore>
#include <thread>
#include <vector>

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

/// Keeps cores busy as long as it lives.
class BusyCores {
public:
  explicit BusyCores(unsigned count) {
    for (unsigned i = 0; i < count; ++i)
      threads_.emplace_back([this] {
        while (!ending_.load(std::memory_order_relaxed)) {
        }
      });
  }
  ~BusyCores() {
    ending_ = true;
    for (auto& thread : threads_)
      thread.join();
  }
  BusyCores(const BusyCores&) = delete;
  BusyCores& operator=(const BusyCores&) = delete;

private:
  std::atomic<bool> ending_{false};
  std::vector<std::thread> threads_;
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

/// Measures both under a load, and prints them as one member of an object.
void measure(const char* name, unsigned busy_cores, int rounds) {
  const auto measured = std::make_unique<Measured>();
  const BusyCores busy(busy_cores);
  Latest<Transport> transport;
  LatenessHistogram bare;
  Sender sender(std::make_unique<MeasuringOutput>(*measured), transport);
  for (int round = 0; round < rounds; ++round) {
    measure_bare_timer(events_a_round, duration_of(distance, tempo), bare);
    play(sender, transport, *measured);
  }
  std::printf("\"%s\":{\"realtime\":%s,", name, sender.is_realtime() ? "true" : "false");
  print("sender", measured->lateness.summary());
  std::printf(",");
  print("bare", bare.summary());
  std::printf(",\"drops\":%llu}", static_cast<unsigned long long>(sender.report().drops));
}

} // namespace

int main(int count, char** words) {
  const int rounds = count > 1 ? std::atoi(words[1]) : 4;
  std::printf("{");
  measure("idle", 0, rounds);
  std::printf(",");
  measure("one_core_busy", 1, rounds);
  std::printf(",");
  measure("all_cores_busy", std::max(1U, std::thread::hardware_concurrency()), rounds);
  std::printf("}\n");
  return 0;
}
