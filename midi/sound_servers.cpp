#include "midi/sound_servers.hpp"

#include "midi/error_filter.hpp"
#include "midi/jack_observer.hpp"
#include "midi/loaded_function.hpp"

#include <csignal>
#include <cstdlib>
#include <functional>
#include <future>
#include <iostream>
#include <memory>
#include <mutex>
#include <thread>
#include <unistd.h>

namespace landfall::midi {
namespace {

constexpr std::chrono::milliseconds longest_answer{1000};
constexpr std::chrono::milliseconds short_wait{20};
constexpr int more_tries = 3;
constexpr std::chrono::milliseconds between_tries{200};

using JackSetText = void (*)(void (*)(const char*));
using AlsaSetError = int (*)(void (*)(const char*, int, const char*, int, const char*, ...));

void ignore_text(const char*) {}
void ignore_alsa(const char*, int, const char*, int, const char*, ...) {}

/// Who asks, and what has not been answered yet. JACK's library opens one client at a time, so that
/// whoever asks again while a server hangs waits for the same.
struct Asker {
  std::mutex mutex;
  JackObserver observer;
  std::future<JackAnswer> pending;
  bool was_present = false;
};

Asker& asker() {
  static auto& lasting = *new Asker; // what hangs may outlive everything
  return lasting;
}

bool is_free(Asker& asker) {
  if (asker.pending.valid() && asker.pending.wait_for(short_wait) != std::future_status::ready)
    return false;
  asker.pending = {};
  return true;
}

/// In a thread of its own; silent if there is nothing in time.
JackAnswer answer_of(Asker& asker, std::function<JackAnswer()> question) {
  if (!is_free(asker))
    return {ServerState::silent, {}, {}, 0};
  auto answer = std::make_shared<std::promise<JackAnswer>>();
  asker.pending = answer->get_future();
  std::thread([answer, question = std::move(question)] { answer->set_value(question()); }).detach();
  if (asker.pending.wait_for(longest_answer) != std::future_status::ready)
    return {ServerState::silent, {}, {}, 0};
  return asker.pending.get();
}

} // namespace

/// While another client comes or goes, a server that is there may refuse one more.
JackAnswer ask_jack(const std::vector<std::string>& ports) {
  auto& us = asker();
  const std::lock_guard lock(us.mutex);
  try {
    const auto ask = [&] {
      return answer_of(us, [&us, ports] { return us.observer.look(ports); });
    };
    auto answer = ask();
    for (int i = 0; i < more_tries && us.was_present && answer.state == ServerState::absent; ++i) {
      std::this_thread::sleep_for(between_tries);
      answer = ask();
    }
    us.was_present = answer.state == ServerState::present;
    return answer;
  } catch (...) {
    return {}; // no thread to be had
  }
}

void leave_jack() {
  auto& us = asker();
  const std::lock_guard lock(us.mutex);
  try {
    answer_of(us, [&us] { return us.observer.leave(), JackAnswer{}; });
  } catch (...) {
    // it goes with the program
  }
}

void quieten_sound_libraries() {
  setenv("JACK_NO_START_SERVER", "1", 0);
  std::signal(SIGPIPE, SIG_IGN);
  static auto& filter = *new ErrorFilter(std::cerr.rdbuf()); // what ends last may still write
  std::cerr.rdbuf(&filter);
  for (const auto* name : {"jack_set_error_function", "jack_set_info_function"})
    if (const auto set = find_function<JackSetText>(name))
      set(ignore_text);
  if (const auto set = find_function<AlsaSetError>("snd_lib_error_set_handler"))
    set(ignore_alsa);
}

ServerState probe_jack() {
  return ask_jack({}).state;
}

bool has_alsa_sequencer() {
  return access("/dev/snd/seq", F_OK) == 0;
}

} // namespace landfall::midi
