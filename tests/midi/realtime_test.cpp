// Neither the sender's thread nor an input's callback allocates or takes a mutex: this program puts
// its own functions in front of the C library's and counts the calls that come from there.

#include "midi/fake_output.hpp"
#include "midi/input_intake.hpp"
#include "midi/input_reader.hpp"
#include "midi/routing.hpp"
#include "midi/sender.hpp"

#include <doctest/doctest.h>

#include <array>
#include <atomic>
#include <cstdlib>
#include <dlfcn.h>
#include <memory>
#include <semaphore>
#include <vector>

namespace {

std::atomic<bool> counting{false};
thread_local bool in_real_time = false;
std::atomic<int> allocations{0};
std::atomic<int> mutexes{0};

void count(std::atomic<int>& what) {
  if (in_real_time && counting.load(std::memory_order_relaxed))
    ++what;
}

using LockFunction = int (*)(pthread_mutex_t*);
LockFunction real_lock = nullptr;
LockFunction real_trylock = nullptr;

} // namespace

// NOLINTBEGIN(bugprone-reserved-identifier)
extern "C" {
void* __libc_malloc(std::size_t);
void* __libc_calloc(std::size_t, std::size_t);
void* __libc_realloc(void*, std::size_t);
void __libc_free(void*);

void* malloc(std::size_t size) {
  count(allocations);
  return __libc_malloc(size);
}
void* calloc(std::size_t number, std::size_t size) {
  count(allocations);
  return __libc_calloc(number, size);
}
void* realloc(void* old, std::size_t size) {
  count(allocations);
  return __libc_realloc(old, size);
}
void free(void* old) {
  if (old != nullptr)
    count(allocations);
  __libc_free(old);
}
int pthread_mutex_lock(pthread_mutex_t* mutex) {
  count(mutexes);
  if (real_lock == nullptr)
    real_lock = reinterpret_cast<LockFunction>(dlsym(RTLD_NEXT, "pthread_mutex_lock"));
  return real_lock(mutex);
}
int pthread_mutex_trylock(pthread_mutex_t* mutex) {
  count(mutexes);
  if (real_trylock == nullptr)
    real_trylock = reinterpret_cast<LockFunction>(dlsym(RTLD_NEXT, "pthread_mutex_trylock"));
  return real_trylock(mutex);
}
}
// NOLINTEND(bugprone-reserved-identifier)

using namespace landfall;
using namespace landfall::midi;

namespace {

/// What the test thread sees of the output.
struct Watch {
  std::atomic<int> sent{0};
  std::counting_semaphore<> progress{0};
};

/// Marks the thread that sends, and tells the test of every hundredth message.
class MarkingOutput final : public Output {
public:
  explicit MarkingOutput(Watch& watch) : watch_(watch) {}

  void send(std::span<const std::uint8_t>, TimePoint) noexcept override {
    in_real_time = true;
    if (++watch_.sent % 100 == 0)
      watch_.progress.release();
  }

private:
  Watch& watch_;
};

/// Each channel's part elsewhere, with a sound of its own.
Routing moved(int turn) {
  auto routing = straight_routing();
  for (auto& route : routing.routes) {
    route.channel = static_cast<std::int8_t>((route.channel + turn) % channel_count);
    route.bank = static_cast<std::int16_t>(turn * 100);
    route.program = static_cast<std::int16_t>(turn);
    route.transpose = static_cast<std::int8_t>(turn % 3 * 12);
  }
  return routing;
}

Chunk busy(std::int64_t from, int count) {
  Chunk chunk{{from}, {from + count}, {}};
  for (int i = 0; i < count; ++i) {
    chunk.messages.push_back({{from + i}, {1 + i % 40}, note_on(i % 5, 30 + i % 50, 80)});
    if (i % 4 == 0) // these are sent however late, so that there is progress
      chunk.messages.push_back({{from + i}, {}, control(0, 11, i % 128)});
  }
  return chunk;
}

} // namespace

TEST_CASE("the counters do count") {
  counting = true;
  in_real_time = true;
  delete new int(1);
  std::free(std::malloc(3));
  pthread_mutex_t mutex = PTHREAD_MUTEX_INITIALIZER;
  pthread_mutex_lock(&mutex);
  pthread_mutex_unlock(&mutex);
  in_real_time = false;
  counting = false;
  CHECK(allocations.exchange(0) >= 2);
  CHECK(mutexes.exchange(0) == 1);
}

TEST_CASE("playing busily, with a clock and parts that move to other channels and sounds, the "
          "sender's thread neither allocates nor locks") {
  Watch watch;
  Latest<Transport> transport;
  Latest<Routing> routing;
  Sender sender(std::make_unique<RoutedOutput>(std::make_unique<MarkingOutput>(watch), routing),
                transport);
  sender.thru(0).open = true;
  sender.send_clock(true);
  counting = true;
  std::int64_t from = 0;
  for (int performance = 0; performance < 3; ++performance) {
    from = 0;
    sender.submit(busy(from, 500));
    transport.publish(test::rolling({0}, Clock::now(), Tempo{250'000}));
    sender.wake();
    for (int turn = 0; turn < 8; ++turn) {
      watch.progress.acquire();
      from += 400;
      sender.submit(busy(from, 500)); // replaces the end of the one before
      const auto line = transport.read();
      const auto here = std::max(line.tick_at(Clock::now()), line.settled({from}).anchor_tick);
      transport.publish(line.settled(here).with_tempo(here, Tempo{200'000 + turn * 5'000}));
      sender.wake();
      sender.mute(static_cast<std::uint16_t>(turn));
      routing.publish(moved(turn));
      sender.send_now(program(3, turn), Clock::now());
      sender.thru(0).queue.push({Clock::now(), note_on(7, 60 + turn, 90)});
      sender.wake();
    }
    sender.panic();
    sender.stop();
  }
  counting = false;
  CHECK(watch.sent > 2'000);
  CHECK(allocations == 0);
  CHECK(mutexes == 0);
}

TEST_CASE("taking messages in, leaving controls out and reading in any mode neither allocates nor "
          "locks") {
  Watch watch;
  Latest<Transport> transport;
  Sender sender(std::make_unique<MarkingOutput>(watch), transport);
  sender.thru(0).open = true;
  auto intake = std::make_unique<InputIntake>();
  const std::vector<Binding> bindings{{"", {ControlKind::note, 36, {}}, {}, {}, "start-stop"}};
  intake->controls().set(bindings, "keys");
  intake->set_thru(&sender, 0);
  std::vector<InputReader> readers;
  for (const auto mode : {InputMode::one_channel, InputMode::per_string, InputMode::mpe_lower,
                          InputMode::mpe_upper}) {
    InputSetup setup;
    setup.mode = mode;
    readers.emplace_back(setup);
  }
  std::size_t events = 0;
  counting = true;
  in_real_time = true;
  for (int i = 0; i < 20'000; ++i) {
    const std::array all{note_on(i % 16, i % 128, 90), bend(i % 16, i % 8192),
                         control(i % 16, i % 128, i % 128), note_off(i % 16, i % 128)};
    const auto& message = all[static_cast<std::size_t>(i) % all.size()];
    intake->take({message.bytes.data(), message.size}, Clock::now());
    for (StampedMessage stamped; i % 3 == 0 && intake->pop(stamped);)
      for (auto& reader : readers)
        events += reader.read(stamped).size();
  }
  in_real_time = false;
  counting = false;
  intake->set_thru(nullptr, 0);
  CHECK(events > 20'000);
  CHECK(allocations == 0);
  CHECK(mutexes == 0);
}
