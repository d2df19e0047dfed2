#include "midi/jack_observer.hpp"

#include "midi/loaded_function.hpp"
#include "midi/rtmidi_api.hpp"
#include "time/ticks.hpp"

#include <algorithm>
#include <array>
#include <atomic>
#include <cstdint>
#include <cstdlib>
#include <thread>
#include <utility>

namespace landfall::midi {
namespace {

constexpr std::chrono::milliseconds longest_period{150}; ///< 4096 frames at 32 kHz, and some more.
constexpr const char* observer_name = "landfall-probe";

// JACK's C interface (jack/jack.h, jack/types.h), taken from the library that RtMidi brought in, so
// that we neither need its headers nor bring it in where RtMidi has no use for it.
constexpr int jack_no_start_server = 0x01;
constexpr unsigned long jack_port_is_input = 0x1, jack_port_is_output = 0x2;
constexpr const char* jack_midi_type = "8 bit raw midi";
struct JackClient;
struct JackPort;

struct Jack {
  JackClient* (*open)(const char*, int, int*, ...);
  int (*close)(JackClient*);
  void (*on_shutdown)(JackClient*, void (*)(void*), void*);
  std::uint32_t (*last_frame_time)(JackClient*);
  const char** (*get_ports)(JackClient*, const char*, const char*, unsigned long);
  JackPort* (*port_by_name)(JackClient*, const char*);
  const char** (*connections)(JackClient*, JackPort*);
  void (*release)(void*);

  bool complete() const {
    return open != nullptr && close != nullptr && on_shutdown != nullptr &&
           last_frame_time != nullptr && get_ports != nullptr && port_by_name != nullptr &&
           connections != nullptr && release != nullptr;
  }
};

const Jack& jack() {
  static const Jack found{
      find_function<decltype(Jack::open)>("jack_client_open"),
      find_function<decltype(Jack::close)>("jack_client_close"),
      find_function<decltype(Jack::on_shutdown)>("jack_on_shutdown"),
      find_function<decltype(Jack::last_frame_time)>("jack_last_frame_time"),
      find_function<decltype(Jack::get_ports)>("jack_get_ports"),
      find_function<decltype(Jack::port_by_name)>("jack_port_by_name"),
      find_function<decltype(Jack::connections)>("jack_port_get_all_connections"),
      find_function<decltype(Jack::release)>("jack_free"),
  };
  return found;
}

JackClient* open_client() {
  int status = 0;
  return jack().open(observer_name, jack_no_start_server, &status);
}

std::string server_name() {
  const char* name = std::getenv("JACK_DEFAULT_SERVER");
  return name == nullptr ? std::string() : std::string(name);
}

std::vector<std::string> taken(const char** names) {
  std::vector<std::string> all;
  for (const char** name = names; name != nullptr && *name != nullptr; ++name)
    all.emplace_back(*name);
  if (names != nullptr)
    jack().release(names);
  return all;
}

/// libjack 1.9.21 keeps the signals of all clients in a table of the program's, by their numbers.
/// It takes no notice of one that closes while the program's first client is being opened: its
/// signal stays there, and the program's next client with that number waits for it for ever,
/// unheard and told nothing. One that comes and goes clears its place; these take the two that are
/// next. They are left behind where the server is `dead` meanwhile, as its other clients are.
void clear_places(const std::atomic<bool>& dead) {
  std::array<JackClient*, 2> passing{};
  std::generate(passing.begin(), passing.end(), open_client);
  for (auto* client : passing)
    if (client != nullptr && !dead)
      jack().close(client);
}

/// Whether a port is there and none of ours is connected to it.
bool is_loose(JackClient* client, const std::string& name) {
  JackPort* port = jack().port_by_name(client, name.c_str());
  if (port == nullptr)
    return false;
  const auto others = taken(jack().connections(client, port));
  return std::none_of(others.begin(), others.end(), is_own_port);
}

} // namespace

struct JackObserver::Client {
  JackClient* client = nullptr;
  std::atomic<bool> dead{false}; ///< Set by a thread of JACK's.
  std::uint32_t frame = 0;       ///< At which the period had begun,
  TimePoint seen;                ///< when we looked.
};

JackObserver::JackObserver() = default;

JackObserver::~JackObserver() {
  leave();
}

JackAnswer JackObserver::look(const std::vector<std::string>& ports) {
  if (!jack().complete())
    return {};
  if (client_ && (client_->dead || server_ != server_name())) {
    leave();
    ++number_;
  }
  if (!client_ && !open())
    return {};
  const bool answers = is_alive();
  if (client_->dead)
    return {};
  if (!answers)
    return {ServerState::silent, {}, {}, 0};
  auto* client = client_->client;
  JackAnswer answer{ServerState::present, ports, {}, number_};
  const auto drop_held = [&] {
    std::erase_if(answer.loose, [&](const auto& name) { return !is_loose(client, name); });
  };
  drop_held();
  if (!answer.loose.empty()) { // a connection holds from the next period on
    await_period();
    drop_held();
  }
  // what a client puts out is what we take in
  answer.ports = {taken(jack().get_ports(client, nullptr, jack_midi_type, jack_port_is_output)),
                  taken(jack().get_ports(client, nullptr, jack_midi_type, jack_port_is_input))};
  return answer;
}

/// Waits until one begins, if any does.
void JackObserver::await_period() const {
  const auto frame = jack().last_frame_time(client_->client);
  const auto limit = Clock::now() + longest_period;
  while (jack().last_frame_time(client_->client) == frame && Clock::now() < limit)
    std::this_thread::sleep_for(std::chrono::milliseconds(1));
}

/// A dead server's client can't be closed: that takes the program down. Leaves it behind.
void JackObserver::leave() {
  if (client_ && client_->dead)
    static_cast<void>(client_.release());
  if (client_)
    jack().close(client_->client);
  client_.reset();
}

bool JackObserver::open() {
  auto client = std::make_unique<Client>();
  client->client = open_client();
  if (client->client == nullptr)
    return false;
  jack().on_shutdown(
      client->client, [](void* dead) { *static_cast<std::atomic<bool>*>(dead) = true; },
      &client->dead);
  clear_places(client->dead);
  client_ = std::move(client);
  server_ = server_name();
  return true;
}

/// A server whose time stands still may hang, or be of a kind that tells no time to those without a
/// part in its graph: whether it still takes a client, as long as it may take, tells them apart.
bool JackObserver::is_alive() {
  const auto frame = jack().last_frame_time(client_->client);
  const auto now = Clock::now();
  if (now - client_->seen < longest_period)
    return true;
  client_->seen = now;
  if (frame != std::exchange(client_->frame, frame))
    return true;
  JackClient* another = open_client();
  if (another != nullptr)
    jack().close(another);
  return another != nullptr;
}

} // namespace landfall::midi
