#include "app/devices.hpp"

#include "app/outputs.hpp"
#include "midi/sound_servers.hpp"
#include "theory/words.hpp"

#include <algorithm>

namespace landfall::app {
namespace {

std::atomic<bool> abandoned{false}; ///< Something blocked or dead was left behind.

constexpr std::chrono::seconds poll_time{1};
constexpr std::chrono::seconds blocked_limit{2};
constexpr std::chrono::seconds retry_time{10};  ///< Between looks for an audio device.
constexpr std::chrono::seconds silent_limit{3}; ///< An audio device that asks for nothing is gone.

std::vector<std::string> names_of(const std::vector<midi::PortInfo>& ports) {
  std::vector<std::string> names;
  for (const auto& port : ports)
    names.push_back(port.name);
  return names;
}

bool lists(const std::vector<midi::PortInfo>& ports, const std::string& name) {
  return std::any_of(ports.begin(), ports.end(),
                     [&](const midi::PortInfo& port) { return port.name == name; });
}

/// The port meant by a wish; "" if it is not there. Without a wish, the first that an instrument
/// may stand behind.
std::string input_for(const std::vector<midi::PortInfo>& ports, const std::string& wish) {
  const auto names = names_of(ports);
  if (!wish.empty()) {
    const int at = midi::find_port(names, wish);
    return at < 0 ? "" : names[static_cast<std::size_t>(at)];
  }
  for (const auto& name : names)
    if (lower_case(name).find("through") == std::string::npos)
      return name;
  return "";
}

std::string shortened(const std::string& name) {
  constexpr std::size_t most = 28;
  return name.size() <= most ? name : name.substr(0, most - 3) + "...";
}

} // namespace

Devices::Devices(Conductor& conductor, DeviceWish wish)
    : conductor_(conductor), wish_(std::move(wish)), thread_([this] { run(); }) {}

Devices::~Devices() {
  {
    const Lock lock(mutex_);
    ending_ = true;
  }
  changed_.notify_all();
  thread_.join();
  close_output();
  close_input(std::move(input_));
}

void Devices::wish(const DeviceWish& wish) {
  {
    const Lock lock(mutex_);
    wish_ = wish;
  }
  changed_.notify_all();
}

DeviceState Devices::state() const {
  const Lock lock(mutex_);
  return state_;
}

bool Devices::wait_until_ready(std::chrono::milliseconds limit) const {
  Lock lock(mutex_);
  return changed_.wait_for(lock, limit, [this] { return state_.ready; });
}

bool Devices::wait_until_looked(std::chrono::milliseconds limit) const {
  Lock lock(mutex_);
  return changed_.wait_for(lock, limit, [this] { return state_.looked; });
}

bool Devices::pop(midi::StampedMessage& message) {
  const Lock lock(mutex_);
  return input_ && input_->pop(message);
}

bool Devices::must_exit_hard() {
  return abandoned;
}

void Devices::run() {
  Lock lock(mutex_);
  while (!ending_) {
    const auto wish = wish_;
    lock.unlock();
    if (!output_open_) // the first sound must not wait for a look at all ports
      tend_output(wish);
    watcher_.poll();
    look_for_server();
    tend_output(wish);
    tend_input(wish);
    connect_thru(wish);
    publish(true);
    lock.lock();
    changed_.wait_for(lock, poll_time, [&] { return ending_ || !(wish_ == wish); });
  }
}

void Devices::look_for_server() {
  const bool out = out_api_ == "jack", in = in_api_ == "jack";
  const bool gone = (out || in) && midi::probe_jack() != midi::ServerState::present;
  out_lost_ = out_lost_ || (out && gone);
  in_lost_ = in_lost_ || (in && gone);
}

bool Devices::output_is_gone() const {
  if (out_lost_)
    return true;
  if (out_idle_for_ && out_idle_for_(Clock::now()) > silent_limit)
    return true;
  return !out_port_.empty() && !lists(watcher_.ports().outputs, out_port_);
}

void Devices::tend_output(const DeviceWish& wish) {
  const bool named = !is_own_output(wish.out);
  const bool there = named && midi::find_port(names_of(watcher_.ports().outputs), wish.out) >= 0;
  const bool blocked = conductor_.blocked_for(Clock::now()) > blocked_limit;
  const bool retry = out_silent_ && Clock::now() - out_since_ > retry_time;
  const bool waits_for_it = (named && out_port_.empty() && there) || retry;
  if (output_open_ && wish.out == out_wish_ && !blocked && !output_is_gone() && !waits_for_it)
    return;
  if (named && !output_open_ && watcher_.ports().outputs.empty())
    watcher_.poll();
  close_output();
  open_output(wish);
}

void Devices::close_output() {
  {
    const Lock lock(mutex_);
    if (input_)
      input_->set_thru(nullptr, 0);
  }
  thru_ = false;
  sender_ = nullptr;
  // A sound server that has died takes whoever closes its client down with it: leave that too.
  look_for_server();
  const bool dead = out_lost_ || (out_idle_for_ && out_idle_for_(Clock::now()) > silent_limit);
  out_idle_for_ = nullptr;
  for (auto& sender : conductor_.take_senders()) {
    // a call that does not return at once may still do so: ending the sender would wait for ever
    for (auto blocked = sender->blocked_for(Clock::now());
         !dead && blocked > Nanoseconds{} && blocked <= blocked_limit;
         blocked = sender->blocked_for(Clock::now()))
      std::this_thread::sleep_for(std::chrono::milliseconds(5));
    if (dead || sender->blocked_for(Clock::now()) > blocked_limit) {
      midi::Sender::abandon(std::move(sender));
      abandoned = true;
    }
  }
  output_open_ = false;
}

void Devices::open_output(const DeviceWish& wish) {
  auto opened = app::open_output(wish.out);
  out_wish_ = wish.out;
  out_port_ = opened.port;
  out_words_ = opened.words;
  out_notice_ = opened.notice;
  out_idle_for_ = opened.idle_for;
  out_api_ = opened.api;
  out_lost_ = false;
  out_instead_ = opened.instead;
  out_silent_ = opened.silent;
  out_since_ = Clock::now();
  auto sender =
      std::make_unique<midi::Sender>(std::move(opened.output), conductor_.transport_link());
  sender_ = sender.get();
  conductor_.add(std::move(sender));
  output_open_ = true;
  publish(false);
}

void Devices::close_input(std::unique_ptr<midi::RtMidiInput> input) {
  look_for_server();
  in_api_.clear();
  if (!std::exchange(in_lost_, false) || !input)
    return;
  input->set_thru(nullptr, 0);
  static_cast<void>(input.release());
  abandoned = true;
}

void Devices::tend_input(const DeviceWish& wish) {
  const auto& ports = watcher_.ports().inputs;
  const bool keep = wish.in == "virtual"
                        ? in_port_ == "virtual"
                        : wish.in != "none" && input_for(ports, wish.in) == in_port_;
  if (keep && !in_lost_ && (in_port_.empty() || input_))
    return;
  const auto before = std::exchange(in_port_, "");
  std::unique_ptr<midi::RtMidiInput> old, fresh;
  {
    const Lock lock(mutex_);
    old = std::move(input_);
  }
  thru_ = false;
  close_input(std::move(old));
  in_notice_ = before.empty() || wish.in == "none" ? "" : shortened(before) + " is gone";
  if (wish.in == "virtual")
    fresh = midi::RtMidiInput::open_virtual("in");
  else if (const auto name = input_for(ports, wish.in); wish.in != "none" && !name.empty())
    fresh = midi::RtMidiInput::open(name);
  if (fresh) {
    in_api_ = fresh->port().api;
    in_port_ = wish.in == "virtual" ? "virtual" : fresh->port().name;
    in_words_ = wish.in == "virtual" ? "our port in" : shortened(in_port_) + " in";
    in_notice_.clear();
  } else {
    in_words_.clear();
    if (!wish.in.empty() && wish.in != "none" && in_notice_.empty())
      in_notice_ = wish.in == "virtual" ? "this system has no virtual ports"
                                        : "waiting for '" + wish.in + "' to be plugged in";
  }
  const Lock lock(mutex_);
  input_ = std::move(fresh);
}

void Devices::connect_thru(const DeviceWish& wish) {
  const Lock lock(mutex_);
  const bool wanted = wish.thru && input_ && sender_ != nullptr;
  if (wanted == thru_)
    return;
  thru_ = wanted;
  if (sender_ != nullptr) {
    sender_->thru(0).channel = lead_channel;
    sender_->thru(0).open = wanted;
    sender_->wake();
  }
  if (input_)
    input_->set_thru(wanted ? sender_ : nullptr, 0);
}

bool Devices::input_is_missing(const DeviceWish& wish) const {
  return !wish.in.empty() && wish.in != "none" && wish.in != "virtual" && in_port_.empty();
}

void Devices::publish(bool looked) {
  {
    const Lock lock(mutex_);
    state_.ports = in_words_ + (in_words_.empty() ? "" : " · ") + out_words_;
    state_.notice = out_notice_.empty() ? in_notice_ : out_notice_;
    state_.has_input = input_ != nullptr;
    state_.lists = watcher_.ports();
    state_.ready = output_open_;
    state_.looked = state_.looked || looked;
    state_.output_missing = out_instead_;
    state_.input_missing = input_is_missing(wish_);
  }
  changed_.notify_all();
}

} // namespace landfall::app
