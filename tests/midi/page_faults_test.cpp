// The sender's thread waits for no page of memory, once it has played for a moment.

#include "midi/fake_output.hpp"
#include "midi/resident.hpp"
#include "midi/sender.hpp"

#include <doctest/doctest.h>

#include <atomic>
#include <semaphore>
#include <sys/mman.h>
#include <sys/resource.h>
#include <thread>

using namespace landfall;
using namespace landfall::midi;

namespace {

/// Of the calling thread so far, with and without a wait for the disk.
long page_faults() {
  rusage usage{};
  getrusage(RUSAGE_THREAD, &usage);
  return usage.ru_minflt + usage.ru_majflt;
}

/// Fresh pages of the system's.
class Pages {
public:
  explicit Pages(std::size_t count)
      : bytes_(count * size),
        memory_(mmap(nullptr, bytes_, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0)) {
  }
  ~Pages() { munmap(memory_, bytes_); }
  Pages(const Pages&) = delete;
  Pages& operator=(const Pages&) = delete;

  std::size_t count() const { return bytes_ / size; }
  void* data() const { return memory_; }
  std::size_t bytes() const { return bytes_; }
  void touch(std::size_t page) const { static_cast<volatile char*>(memory_)[page * size] = 1; }

private:
  static constexpr std::size_t size = 4096;
  std::size_t bytes_;
  void* memory_;
};

struct Watch {
  std::atomic<bool> warm{false};
  std::atomic<long> faults{0}; ///< Of the sender's thread since it was warm.
  std::atomic<int> sent{0};    ///< Since then.
  std::counting_semaphore<> progress{0};
};

/// Looks at the faults of the thread that sends; tells the test of every hundredth message. Touches
/// `fresh`, a page each time, if there is such.
class WatchingOutput final : public Output {
public:
  explicit WatchingOutput(Watch& watch, const Pages* fresh = nullptr)
      : watch_(watch), fresh_(fresh) {}

  void send(std::span<const std::uint8_t>, TimePoint) noexcept override {
    const auto faults = page_faults();
    if (!watch_.warm)
      first_ = faults;
    else
      watch_.faults = faults - first_, ++watch_.sent;
    if (fresh_ != nullptr && page_ < fresh_->count())
      fresh_->touch(page_++);
    if (++all_ % 100 == 0)
      watch_.progress.release();
  }

private:
  Watch& watch_;
  const Pages* fresh_;
  std::size_t page_ = 0;
  long first_ = 0;
  int all_ = 0;
};

Chunk busy(std::int64_t from, int count, std::int64_t length) {
  Chunk chunk{{from}, {from + count}, {}};
  for (int i = 0; i < count; ++i) {
    chunk.messages.push_back({{from + i}, {length}, note_on(i % 5, i % 128, 80)});
    if (i % 4 == 0) // these are sent however late, so that there is progress
      chunk.messages.push_back({{from + i}, {}, control(0, 11, i % 128)});
  }
  return chunk;
}

/// Plan after plan, replaced in part, with changes of tempo, mutes, keys played through, panic and
/// stop; `length` is that of the notes.
void perform(Sender& sender, Latest<Transport>& transport, Watch& watch, std::int64_t length) {
  std::int64_t from = 0;
  sender.submit(busy(from, 500, length));
  transport.publish(test::rolling({0}, Clock::now(), Tempo{250'000}));
  sender.wake();
  for (int turn = 0; turn < 6; ++turn) {
    watch.progress.acquire();
    from += 400;
    sender.submit(busy(from, 500, length));
    const auto line = transport.read();
    const auto here = std::max(line.tick_at(Clock::now()), line.settled({from}).anchor_tick);
    transport.publish(line.settled(here).with_tempo(here, Tempo{200'000 + turn * 5'000}));
    sender.mute(static_cast<std::uint16_t>(turn));
    sender.send_now(program(3, turn), Clock::now());
    sender.thru(0).queue.push({Clock::now(), note_on(7, 60 + turn, 90)});
    sender.wake();
    if (turn % 2 == 1)
      sender.panic();
  }
  sender.stop();
  while (watch.progress.try_acquire()) {
  }
}

/// Faults of the sender's thread in its second and third performance, and what was sent there.
std::pair<long, int> faults_after_warm_up(const Pages* fresh = nullptr) {
  Watch watch;
  Latest<Transport> transport;
  {
    Sender sender(std::make_unique<WatchingOutput>(watch, fresh), transport);
    sender.thru(0).open = true;
    perform(sender, transport, watch, 3);
    watch.warm = true;
    perform(sender, transport, watch, 3);
    perform(sender, transport, watch, 5'000); // many more notes sound at once than ever before
  }
  return {watch.faults, watch.sent};
}

} // namespace

TEST_CASE("a sender's thread has no page fault after its warm-up: thru, stop, panic, new tempi") {
  const auto [faults, sent] = faults_after_warm_up();
  CHECK(faults == 0);
  CHECK(sent > 1'000);
}

TEST_CASE("a page that the sender's thread is the first to touch would be seen") {
  const Pages fresh(4'000);
  CHECK(faults_after_warm_up(&fresh).first > 100);
}

TEST_CASE("memory that is kept is there before it is touched") {
  const Pages pages(64);
  if (!keep_resident(pages.data(), pages.bytes())) {
    MESSAGE("skipped: the system locks no memory for us");
    return;
  }
  const auto before = page_faults();
  for (std::size_t page = 0; page < pages.count(); ++page)
    pages.touch(page);
  CHECK(page_faults() == before);
}

TEST_CASE("a thread's stack is there as deep as a sender goes, whether it may be locked or not") {
  long faults = -1;
  std::thread([&faults] {
    keep_stack_resident();
    const auto before = page_faults();
    [] {
      volatile char deep[64 * 1024];
      for (std::size_t i = 0; i < sizeof deep; i += 4096)
        deep[i] = 1;
    }();
    faults = page_faults() - before;
  }).join();
  CHECK(faults == 0);
}

TEST_CASE("what the system does not let us keep is refused without a word") {
  CHECK_FALSE(keep_resident(nullptr, 4096));
}
