#include "midi/sound_servers.hpp"

#include <csignal>
#include <cstdlib>
#include <dlfcn.h>
#include <future>
#include <memory>
#include <thread>
#include <unistd.h>

namespace landfall::midi {
namespace {

// JACK's C interface (jack/jack.h, jack/types.h), taken from the library that RtMidi brought in, so
// that we neither need its headers nor bring it in where RtMidi has no use for it.
constexpr int jack_null_option = 0x00;
constexpr int jack_no_start_server = 0x01;
struct JackClient;
using JackOpen = JackClient* (*)(const char*, int, int*, ...);
using JackClose = int (*)(JackClient*);
using JackSetText = void (*)(void (*)(const char*));
using AlsaSetError = int (*)(void (*)(const char*, int, const char*, int, const char*, ...));

template <typename Function> Function find_function(const char* name) {
  return reinterpret_cast<Function>(dlsym(RTLD_DEFAULT, name));
}

void ignore_text(const char*) {}
void ignore_alsa(const char*, int, const char*, int, const char*, ...) {}

bool ask_jack() {
  const auto open = find_function<JackOpen>("jack_client_open");
  const auto close = find_function<JackClose>("jack_client_close");
  if (open == nullptr || close == nullptr)
    return false;
  int status = 0;
  JackClient* client = open("landfall-probe", jack_null_option | jack_no_start_server, &status);
  if (client == nullptr)
    return false;
  close(client);
  return true;
}

} // namespace

void quieten_sound_libraries() {
  setenv("JACK_NO_START_SERVER", "1", 0);
  std::signal(SIGPIPE, SIG_IGN);
  for (const auto* name : {"jack_set_error_function", "jack_set_info_function"})
    if (const auto set = find_function<JackSetText>(name))
      set(ignore_text);
  if (const auto set = find_function<AlsaSetError>("snd_lib_error_set_handler"))
    set(ignore_alsa);
}

ServerState probe_jack(std::chrono::milliseconds limit) {
  try {
    auto answer = std::make_shared<std::promise<bool>>();
    auto future = answer->get_future();
    std::thread([answer] { answer->set_value(ask_jack()); }).detach();
    if (future.wait_for(limit) != std::future_status::ready)
      return ServerState::silent;
    return future.get() ? ServerState::present : ServerState::absent;
  } catch (...) {
    return ServerState::absent; // no thread to be had
  }
}

bool has_alsa_sequencer() {
  return access("/dev/snd/seq", F_OK) == 0;
}

} // namespace landfall::midi
