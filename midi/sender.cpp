#include "midi/sender.hpp"

#include "midi/resident.hpp"
#include "midi/sender_core.hpp"

#include <array>
#include <csignal>

namespace landfall::midi {
namespace {

// For the crash handler. Senders beyond these still end their notes when they end.
std::array<std::atomic<Sender*>, 16> all_senders{};

void enter(Sender* sender) noexcept {
  for (auto& place : all_senders)
    if (Sender* none = nullptr; place.compare_exchange_strong(none, sender))
      return;
}

void leave(Sender* sender) noexcept {
  for (auto& place : all_senders)
    if (Sender* self = sender; place.compare_exchange_strong(self, nullptr))
      return;
}

// Signals asked for from outside are the main thread's business.
void leave_signals_to_others() noexcept {
  sigset_t all;
  sigfillset(&all);
  for (const int own : {SIGSEGV, SIGBUS, SIGFPE, SIGILL, SIGABRT})
    sigdelset(&all, own);
  pthread_sigmask(SIG_BLOCK, &all, nullptr);
}

} // namespace

bool panic_all_senders() noexcept {
  bool any = false;
  for (auto& place : all_senders)
    if (Sender* sender = place.load()) {
      sender->mute(0xFFFF);
      sender->panic();
      any = true;
    }
  return any;
}

Sender::Sender(std::unique_ptr<Output> output, const Latest<Transport>& transport)
    : Sender(std::move(output), transport, Options{}) {}

Sender::Sender(std::unique_ptr<Output> output, const Latest<Transport>& transport, Options options)
    : output_(std::move(output)), transport_(transport), options_(options),
      links_(options.message_capacity), thread_([this] { run(); }) {
  enter(this);
}

Sender::~Sender() {
  leave(this);
  ending_ = true;
  alarm_.wake();
  if (thread_.joinable())
    thread_.join();
  ChunkEntry entry;
  while (links_.chunks.pop(entry))
    delete entry.chunk;
  free_retired();
}

void Sender::run() noexcept {
  leave_signals_to_others();
  SenderCore core(*output_, links_, transport_);
  keep_memory();
  keep_resident(&core, sizeof core);
  keep_stack_resident();
  realtime_ = become_realtime(options_.priority);
  while (!ending_.load(std::memory_order_acquire))
    alarm_.wait_until(core.step(Clock::now()));
  if (!abandoned_)
    core.finish(Clock::now());
}

/// What the thread uses, in the order of need: the system may allow a part only.
void Sender::keep_memory() const noexcept {
  const auto keep = [](const auto& queue) {
    keep_resident(queue.memory().data(), queue.memory().size_bytes());
  };
  keep_resident(this, sizeof *this);
  keep_resident(&transport_, sizeof transport_);
  keep(links_.chunks);
  keep(links_.retired);
  keep(links_.immediate);
  for (const auto& lane : links_.thru)
    keep(lane.queue);
  keep_code_resident();
}

bool Sender::submit(Chunk chunk) {
  free_retired();
  if (chunks_out_ == SenderLinks::chunk_limit) {
    chunk_drops_.fetch_add(1, std::memory_order_relaxed);
    return false;
  }
  auto owned = std::make_unique<const Chunk>(std::move(chunk));
  if (!links_.chunks.push({owned.get(), performance_}))
    return false;
  static_cast<void>(owned.release()); // it comes back by the other queue
  ++chunks_out_;
  alarm_.wake();
  return true;
}

void Sender::free_retired() {
  const Chunk* chunk = nullptr;
  while (links_.retired.pop(chunk)) {
    delete chunk;
    --chunks_out_;
  }
}

bool Sender::send_now(const ShortMessage& message, TimePoint when) noexcept {
  const bool taken = links_.immediate.push({when, message});
  alarm_.wake();
  return taken;
}

void Sender::stop() noexcept {
  ++performance_;
  links_.stopped.publish({performance_, transport_.version() + 1});
  alarm_.wake();
}

void Sender::panic() noexcept {
  links_.panics.fetch_add(1, std::memory_order_release);
  alarm_.wake();
}

void Sender::mute(std::uint16_t channels) noexcept {
  links_.muted.store(channels, std::memory_order_release);
  alarm_.wake();
}

void Sender::send_clock(bool sends) noexcept {
  links_.clock.store(sends, std::memory_order_relaxed);
  alarm_.wake();
}

void Sender::wake() noexcept {
  alarm_.wake();
}

SenderReport Sender::report() const {
  SenderReport result;
  result.lateness = links_.lateness.summary();
  result.histogram = links_.lateness.histogram();
  result.realtime = is_realtime();
  result.drops = links_.skipped.load(std::memory_order_relaxed) + links_.immediate.drops() +
                 chunk_drops_.load(std::memory_order_relaxed) + output_->failures();
  for (const auto& lane : links_.thru)
    result.drops += lane.queue.drops();
  return result;
}

Nanoseconds Sender::blocked_for(TimePoint now) const noexcept {
  const auto since = links_.sending_since.load(std::memory_order_relaxed);
  return since == 0 ? Nanoseconds{0} : now - TimePoint{Nanoseconds{since}};
}

void Sender::abandon(std::unique_ptr<Sender> sender) noexcept {
  Sender* leaked = sender.release();
  leave(leaked);
  demote_to_idle(leaked->thread_.native_handle());
  leaked->abandoned_ = true;
  leaked->ending_ = true;
  leaked->alarm_.wake();
  leaked->thread_.detach();
}

} // namespace landfall::midi
