#include "app/signals.hpp"

#include "midi/sender.hpp"

#include <atomic>
#include <csignal>
#include <ctime>

namespace landfall::app {
namespace {

std::atomic<bool> asked{false};

extern "C" void ask_to_stop(int) {
  asked = true;
}

extern "C" void crash(int signal) {
  midi::panic_all_senders();
  const timespec tenth{0, 100'000'000};
  nanosleep(&tenth, nullptr);
  std::signal(signal, SIG_DFL);
  std::raise(signal);
}

} // namespace

void catch_signals() {
  static_assert(std::atomic<bool>::is_always_lock_free);
  for (const int signal : {SIGINT, SIGTERM, SIGHUP})
    std::signal(signal, ask_to_stop);
  for (const int signal : {SIGSEGV, SIGABRT, SIGBUS, SIGFPE, SIGILL})
    std::signal(signal, crash);
  std::signal(SIGXFSZ, SIG_IGN); // a full disk is an error of the write
}

bool stop_asked() {
  return asked;
}

} // namespace landfall::app
