#include "app/signals.hpp"

#include "midi/sender.hpp"

#include <atomic>
#include <csignal>
#include <cstdlib>
#include <ctime>

namespace landfall::app {
namespace {

std::atomic<bool> asked{false};

extern "C" void ask_to_stop(int) {
  asked = true;
}

/// Waits for the senders; what ends the process by exit() while they play is a library's doing, as
/// where the screen's server has gone.
extern "C" void silence() {
  const timespec tenth{0, 100'000'000};
  if (midi::panic_all_senders())
    nanosleep(&tenth, nullptr);
}

extern "C" void crash(int signal) {
  silence();
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
  static const int at_exit = std::atexit(silence);
  static_cast<void>(at_exit);
  std::signal(SIGXFSZ, SIG_IGN); // a full disk is an error of the write
}

bool stop_asked() {
  return asked;
}

} // namespace landfall::app
