#include "midi/fake_output.hpp"
#include "midi/sender.hpp"

#include <doctest/doctest.h>

#include <optional>
#include <semaphore>

using namespace landfall;
using namespace landfall::midi;
using landfall::midi::test::FakeOutput;
using landfall::midi::test::hanging;
using landfall::midi::test::rolling;
using landfall::midi::test::Sent;
using std::chrono::milliseconds;

namespace {

/// Keeps what was sent where it outlives the sender, and tells the test thread when `awaited`
/// messages are there, or else the last.
struct Record {
  explicit Record(std::size_t expected, std::optional<ShortMessage> end = {})
      : awaited(expected), last(end) {
    sent.reserve(100'000);
  }

  bool ends_here() const { return last ? sent.back().message == *last : sent.size() == awaited; }

  const std::size_t awaited;
  const std::optional<ShortMessage> last;
  std::vector<Sent> sent;
  std::binary_semaphore complete{0};
};

class RecordingOutput final : public Output {
public:
  explicit RecordingOutput(Record& record) : record_(record) {}

  void send(std::span<const std::uint8_t> bytes, TimePoint due) noexcept override {
    fake_.sent.clear();
    fake_.send(bytes, due);
    record_.sent.push_back(fake_.sent.front());
    if (record_.ends_here())
      record_.complete.release();
  }

private:
  Record& record_;
  FakeOutput fake_;
};

/// Blocks in its first message until it is let go.
class BlockingOutput final : public Output {
public:
  struct Gate {
    std::binary_semaphore entered{0};
    std::binary_semaphore opened{0};
    std::binary_semaphore left{0};
  };

  explicit BlockingOutput(Gate& gate) : gate_(gate) {}

  void send(std::span<const std::uint8_t>, TimePoint) noexcept override {
    gate_.entered.release();
    gate_.opened.acquire();
    gate_.left.release();
  }

private:
  Gate& gate_;
};

Chunk repeated_notes(std::int64_t from, int count, std::int64_t distance) {
  Chunk chunk{{from}, {from + count * distance}, {}};
  for (int i = 0; i < count; ++i)
    chunk.messages.push_back({{from + i * distance}, {distance}, note_on(0, 40 + i % 40, 80)});
  return chunk;
}

/// How many were sent for a time that is none of the grid's, or before the one ahead of them.
std::size_t off_the_grid(const std::vector<Sent>& sent, const Transport& line,
                         std::int64_t distance) {
  std::size_t wrong = 0;
  Ticks at{0};
  for (const auto& message : sent) {
    while (line.time_at(at) < message.due)
      at += Ticks{distance};
    wrong += line.time_at(at) == message.due ? 0U : 1U;
  }
  return wrong;
}

} // namespace

// A busy machine may make the thread so late that notes are skipped: then both ends of each are.
TEST_CASE("a sender's thread performs plan after plan, each at its own deadline") {
  constexpr int notes = 200;
  constexpr std::int64_t distance = 2;
  Record record(4 * notes + 1, program(0, 1));
  Latest<Transport> transport;
  {
    Sender sender(std::make_unique<RecordingOutput>(record), transport);
    REQUIRE(sender.submit(repeated_notes(0, notes, distance)));
    Chunk second = repeated_notes(notes * distance, notes, distance);
    second.messages.push_back({second.to + Ticks{distance}, {}, *record.last});
    second.to += Ticks{2 * distance};
    REQUIRE(sender.submit(std::move(second)));
    transport.publish(rolling({0}, Clock::now(), Tempo{150'000}));
    sender.wake();
    record.complete.acquire();
    // one is counted after it was sent; the last is not if it was late
    while (sender.report().lateness.events + 1 < record.sent.size())
      std::this_thread::yield();
    CHECK(sender.report().lateness.events <= record.sent.size());
    CHECK(record.sent.size() + 2 * sender.report().drops == record.awaited);
    CHECK(record.sent.size() > 1);
    CHECK(off_the_grid(record.sent, transport.read(), distance) == 0);
  }
  CHECK(hanging(record.sent).empty());
}

TEST_CASE("whatever sounds ends with the sender") {
  Record record(2);
  Latest<Transport> transport;
  {
    Sender sender(std::make_unique<RecordingOutput>(record), transport);
    sender.submit({{0}, {99'999}, {{{0}, {99'999}, note_on(0, 60, 90)}}});
    transport.publish(rolling({0}, Clock::now(), Tempo{500'000}));
    sender.send_now(note_on(1, 72, 90), Clock::now());
    for (std::uint64_t skipped = 0; !record.complete.try_acquire_for(milliseconds(100));)
      if (sender.report().drops > skipped) { // a thread that starts late skips the note: once more
        skipped = sender.report().drops;
        sender.stop();
        sender.submit({{0}, {99'999}, {{{0}, {99'999}, note_on(0, 60, 90)}}});
        transport.publish(rolling({0}, Clock::now(), Tempo{500'000}));
        sender.wake();
      }
    CHECK(hanging(record.sent).size() == 2);
  }
  CHECK(hanging(record.sent).empty());
}

TEST_CASE("panic reaches every sender, and nothing sounds after it") {
  Record first(64 + 1);
  Record second(64);
  Latest<Transport> transport;
  Sender one(std::make_unique<RecordingOutput>(first), transport);
  const Sender two(std::make_unique<RecordingOutput>(second), transport);
  panic_all_senders();
  second.complete.acquire();
  CHECK(second.sent.front().message == control(0, 64, 0));
  CHECK(second.sent.back().message == bend(15, 0));
  one.send_now(note_on(0, 60, 90), Clock::now());
  one.send_now(program(0, 1), Clock::now());
  first.complete.acquire();
  CHECK(first.sent.back().message == program(0, 1));
}

TEST_CASE("more plans than can be held are refused, and come back to be freed") {
  Record record(1);
  Latest<Transport> transport;
  Sender sender(std::make_unique<RecordingOutput>(record), transport);
  int taken = 0;
  for (int i = 0; i < 100; ++i)
    taken += sender.submit(repeated_notes(i * 100, 2, 50)) ? 1 : 0;
  CHECK(taken == static_cast<int>(SenderLinks::chunk_limit));
  CHECK(sender.report().drops == 100 - SenderLinks::chunk_limit);
  sender.stop();
  sender.send_now(note_on(0, 60, 1), Clock::now());
  record.complete.acquire();
  bool is_taken = false;
  for (int i = 0; i < 5'000 && !is_taken; ++i) { // the note may be sent before the plans are freed
    is_taken = sender.submit(repeated_notes(0, 2, 50));
    std::this_thread::sleep_for(std::chrono::milliseconds(1));
  }
  CHECK(is_taken);
}

TEST_CASE("an output that blocks is seen, and given up without waiting for it") {
  static Latest<Transport> transport; // an abandoned sender may still look at it
  static BlockingOutput::Gate gate;
  auto sender = std::make_unique<Sender>(std::make_unique<BlockingOutput>(gate), transport);
  static const Sender* leaked = nullptr; // for leak checkers
  leaked = sender.get();
  CHECK(leaked->blocked_for(Clock::now() + std::chrono::hours(1)) == Nanoseconds{0});
  sender->send_now(note_on(0, 60, 90), Clock::now());
  gate.entered.acquire();
  CHECK(sender->blocked_for(Clock::now() + std::chrono::seconds(2)) > std::chrono::seconds(2));
  CHECK(sender->blocked_for(Clock::now()) < std::chrono::hours(1));
  Sender::abandon(std::move(sender));
  gate.opened.release();
  gate.left.acquire();
}
