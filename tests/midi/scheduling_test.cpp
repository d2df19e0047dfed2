// How the sender's thread is scheduled, where the system allows real time and where it does not.

#include "midi/message.hpp"
#include "midi/realtime.hpp"
#include "midi/sender.hpp"

#include <doctest/doctest.h>

#include <atomic>
#include <memory>
#include <sched.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>

using namespace landfall;
using namespace landfall::midi;

namespace {

constexpr int messages = 100;
constexpr int slack_ns = 1'000;

/// What a thread saw of itself when it sent.
struct Seen {
  std::atomic<int> sent{0}, policy{-1}, priority{-1}, slack{-1};
};

class LookingOutput final : public Output {
public:
  explicit LookingOutput(Seen& seen) : seen_(seen) {}

  void send(std::span<const std::uint8_t>, TimePoint) noexcept override {
    sched_param param{};
    int policy = -1;
    pthread_getschedparam(pthread_self(), &policy, &param);
    seen_.policy = policy;
    seen_.priority = param.sched_priority;
    seen_.slack = prctl(PR_GET_TIMERSLACK, 0UL, 0UL, 0UL, 0UL);
    ++seen_.sent;
  }

private:
  Seen& seen_;
};

/// Has a sender send all messages, in so long as a stalled machine may take; whether it says that
/// it is real time.
bool send(Seen& seen) {
  Latest<Transport> transport;
  Sender sender(std::make_unique<LookingOutput>(seen), transport);
  Chunk chunk{{0}, quarter * 4, {}};
  for (int i = 0; i < messages; ++i)
    chunk.messages.push_back({Ticks{i}, {}, control(0, 11, i % 128)});
  sender.submit(std::move(chunk));
  Transport rolling;
  rolling.rolling = true;
  rolling.anchor_time = Clock::now();
  transport.publish(rolling);
  sender.wake();
  const auto limit = Clock::now() + std::chrono::seconds(20);
  while (seen.sent < messages && Clock::now() < limit)
    std::this_thread::sleep_for(std::chrono::milliseconds(1));
  return sender.is_realtime();
}

/// Whether a thread of this process may run in real time, asked without the code under test.
bool is_allowed() {
  bool allowed = false;
  std::thread([&] {
    const sched_param param{.sched_priority = sender_priority};
    allowed = pthread_setschedparam(pthread_self(), SCHED_FIFO, &param) == 0;
  }).join();
  return allowed;
}

/// In a process of its own, which may not run in real time.
enum class Forbidden { could_not, wrong, right };
Forbidden send_where_forbidden() {
  const rlimit none{0, 0};
  const bool lowered =
      setrlimit(RLIMIT_RTPRIO, &none) == 0 && (geteuid() != 0 || setuid(65'534) == 0);
  if (!lowered || is_allowed())
    return Forbidden::could_not;
  Seen seen;
  const bool realtime = send(seen);
  const bool right =
      !realtime && seen.sent >= messages && seen.policy == SCHED_OTHER && seen.slack == slack_ns;
  return right ? Forbidden::right : Forbidden::wrong;
}

} // namespace

TEST_CASE("the sender's thread runs in real time where it may, and says whether it does") {
  Seen seen;
  const bool realtime = send(seen);
  CHECK(realtime == is_allowed());
  CHECK(seen.sent.load() >= messages);
  CHECK(seen.policy == (realtime ? SCHED_FIFO : SCHED_OTHER));
  CHECK(seen.priority == (realtime ? sender_priority : 0));
  CHECK(seen.slack.load() <= slack_ns); // Linux gives real time none
}

TEST_CASE("where real time is refused everything is sent all the same") {
  const pid_t child = fork();
  if (child == 0)
    _exit(static_cast<int>(send_where_forbidden()));
  int status = -1;
  REQUIRE(waitpid(child, &status, 0) == child);
  REQUIRE(WIFEXITED(status));
  if (WEXITSTATUS(status) == static_cast<int>(Forbidden::could_not))
    MESSAGE("skipped: this process can't give up its right to real time");
  else
    CHECK(WEXITSTATUS(status) == static_cast<int>(Forbidden::right));
}
