#include "midi/sound_servers.hpp"

#include "midi/error_filter.hpp"
#include "midi/rtmidi_api.hpp"
#include "time/ticks.hpp"

#include <algorithm>
#include <atomic>
#include <csignal>
#include <cstdlib>
#include <dlfcn.h>
#include <future>
#include <iostream>
#include <memory>
#include <thread>
#include <unistd.h>

namespace landfall::midi {
namespace {

constexpr std::chrono::milliseconds longest_answer{1500};
constexpr std::chrono::seconds peace{1};
constexpr int more_tries = 3;
constexpr std::chrono::milliseconds between_tries{200};
std::atomic<bool> was_present{false};
std::atomic<Nanoseconds::rep> in_peace_until{0}; ///< In the clock's nanoseconds.

// JACK's C interface (jack/jack.h, jack/types.h), taken from the library that RtMidi brought in, so
// that we neither need its headers nor bring it in where RtMidi has no use for it.
constexpr int jack_null_option = 0x00;
constexpr int jack_no_start_server = 0x01;
constexpr unsigned long jack_port_is_input = 0x1, jack_port_is_output = 0x2;
constexpr const char* jack_midi_type = "8 bit raw midi";
struct JackClient;
struct JackPort;
using JackOpen = JackClient* (*)(const char*, int, int*, ...);
using JackClose = int (*)(JackClient*);
using JackGetPorts = const char** (*)(JackClient*, const char*, const char*, unsigned long);
using JackSetText = void (*)(void (*)(const char*));
using AlsaSetError = int (*)(void (*)(const char*, int, const char*, int, const char*, ...));

template <typename Function> Function find_function(const char* name) {
  return reinterpret_cast<Function>(dlsym(RTLD_DEFAULT, name));
}

void ignore_text(const char*) {}
void ignore_alsa(const char*, int, const char*, int, const char*, ...) {}

bool is_ours(const char* port) {
  return std::string_view(port).starts_with(client_name);
}

/// Whether a port is there and none of ours is connected to it.
bool is_loose(JackClient* client, const std::string& name) {
  const auto by_name = find_function<JackPort* (*)(JackClient*, const char*)>("jack_port_by_name");
  const auto connections =
      find_function<const char** (*)(JackClient*, JackPort*)>("jack_port_get_all_connections");
  const auto release = find_function<void (*)(void*)>("jack_free");
  if (by_name == nullptr || connections == nullptr || release == nullptr)
    return false;
  JackPort* port = by_name(client, name.c_str());
  if (port == nullptr)
    return false;
  const char** others = connections(client, port);
  bool ours = false;
  for (const char** other = others; other != nullptr && *other != nullptr; ++other)
    ours = ours || is_ours(*other);
  if (others != nullptr)
    release(others);
  return !ours;
}

std::vector<std::string> midi_ports(JackClient* client, unsigned long flags) {
  const auto get = find_function<JackGetPorts>("jack_get_ports");
  const auto release = find_function<void (*)(void*)>("jack_free");
  if (get == nullptr || release == nullptr)
    return {};
  const char** ports = get(client, nullptr, jack_midi_type, flags);
  std::vector<std::string> names;
  for (const char** port = ports; port != nullptr && *port != nullptr; ++port)
    names.emplace_back(*port);
  if (ports != nullptr)
    release(ports);
  return names;
}

JackAnswer ask(const std::vector<std::string>& ports) {
  const auto open = find_function<JackOpen>("jack_client_open");
  const auto close = find_function<JackClose>("jack_client_close");
  if (open == nullptr || close == nullptr)
    return {};
  int status = 0;
  JackClient* client = open("landfall-probe", jack_null_option | jack_no_start_server, &status);
  if (client == nullptr)
    return {};
  JackAnswer answer{ServerState::present, ports, {}};
  std::erase_if(answer.loose, [&](const auto& name) { return !is_loose(client, name); });
  // what a client puts out is what we take in
  answer.ports = {midi_ports(client, jack_port_is_output), midi_ports(client, jack_port_is_input)};
  close(client);
  return answer;
}

JackAnswer ask_once(const std::vector<std::string>& ports) {
  if (Clock::now().time_since_epoch().count() < in_peace_until)
    return {ServerState::silent, {}, {}};
  try {
    auto answer = std::make_shared<std::promise<JackAnswer>>();
    auto future = answer->get_future();
    std::thread([answer, ports] { answer->set_value(ask(ports)); }).detach();
    if (future.wait_for(longest_answer) == std::future_status::ready)
      return future.get();
    in_peace_until = (Clock::now() + peace).time_since_epoch().count();
    return {ServerState::silent, {}, {}};
  } catch (...) {
    return {}; // no thread to be had
  }
}

} // namespace

/// While another client comes or goes, a server that is there may refuse one more.
JackAnswer ask_jack(const std::vector<std::string>& ports) {
  auto answer = ask_once(ports);
  for (int i = 0; i < more_tries && was_present && answer.state == ServerState::absent; ++i) {
    std::this_thread::sleep_for(between_tries);
    answer = ask_once(ports);
  }
  was_present = answer.state == ServerState::present;
  return answer;
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
