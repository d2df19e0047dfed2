#include "app/devices.hpp"

#include "app/lasting.hpp"
#include "midi/sound_servers.hpp"

#include <algorithm>

namespace landfall::app {
namespace {

std::atomic<bool> abandoned{false}; ///< Something blocked or dead was left behind.

constexpr std::chrono::seconds poll_time{1};
constexpr std::chrono::milliseconds watch_time{100}; ///< Between looks at the inputs.
constexpr std::chrono::seconds notice_stays{6};
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

} // namespace

Devices::Devices(Conductor& conductor, DeviceWish wish, Open open)
    : conductor_(conductor), open_(std::move(open)),
      routing_(lasting<midi::Latest<midi::Routing>>()), extras_(conductor, [this] { end_thru(); }),
      wish_(std::move(wish)) {
  routing_.publish(midi::straight_routing());
  inputs_.set_clock_link(&conductor.clock_link());
  thread_ = std::thread([this] { run(); });
}

Devices::~Devices() {
  {
    const Lock lock(mutex_);
    ending_ = true;
  }
  changed_.notify_all();
  thread_.join();
  look_around();
  if (server_state_ == midi::ServerState::silent)
    lose_server();
  close_output();
  if (extras_.close())
    abandoned = true;
  if (inputs_.close())
    abandoned = true;
  end_parked(true);
  midi::leave_jack();
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
  return inputs_.pop(message);
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
    look_around();
    tend_output(wish);
    tend_extras(wish);
    end_parked(false);
    if (inputs_.tend(wish.inputs(), watcher_.ports().inputs))
      abandoned = true;
    connect_thru(wish);
    conductor_.follow_clock(!inputs_.clock_port().empty());
    conductor_.send_clock(wish.sends_clock);
    publish(true);
    lock.lock();
    watch_inputs(lock, wish);
  }
}

/// Until it is time to look at everything again.
void Devices::watch_inputs(Lock& lock, const DeviceWish& wish) {
  const auto is_asked = [&] { return ending_ || !(wish_ == wish); };
  for (const auto end = Clock::now() + poll_time; Clock::now() < end;) {
    if (changed_.wait_for(lock, watch_time, is_asked))
      return;
    lock.unlock();
    for (const auto input : inputs_.watch(Clock::now()))
      cut_thru(input);
    if (state().notice != notice())
      publish(false);
    lock.lock();
  }
}

bool Devices::output_is_gone() const {
  if (out_lost_ || out_loose_)
    return true;
  if (out_idle_for_ && out_idle_for_(Clock::now()) > silent_limit)
    return true;
  return !out_port_.empty() && !lists(watcher_.ports().outputs, out_port_);
}

void Devices::tend_output(const DeviceWish& wish) {
  const bool named = !is_own_output(wish.out);
  const bool there = named && !server_hangs() &&
                     midi::find_port(names_of(watcher_.ports().outputs), wish.out) >= 0;
  const bool blocked = sender_ != nullptr && sender_->blocked_for(Clock::now()) > blocked_limit;
  const bool retry = out_again_ || (out_silent_ && Clock::now() - out_since_ > retry_time);
  const bool waits_for_it = (named && out_port_.empty() && there) || retry;
  const bool as_wished = wish.out == out_wish_ && wish.latency == out_latency_;
  if (output_open_ && as_wished && !blocked && !output_is_gone() && !waits_for_it)
    return;
  if (named && !output_open_ && watcher_.ports().outputs.empty())
    look_around();
  close_output();
  open_output(wish);
  out_answered_ = !blocked;
}

void Devices::close_output() {
  end_thru();
  const auto* gone = std::exchange(sender_, nullptr);
  // A sound server that has died takes whoever closes its client down with it: leave that too.
  if (!out_lost_)
    look_around();
  const auto idle_for = std::exchange(out_idle_for_, nullptr);
  const bool idle = idle_for && idle_for(Clock::now()) > silent_limit;
  output_open_ = false;
  auto sender = conductor_.take(gone);
  if (sender && idle && !out_lost_)
    park({std::move(sender), idle_for});
  else if (sender && end_sender(std::move(sender), out_lost_))
    abandoned = true;
}

void Devices::open_output(const DeviceWish& wish) {
  const bool again = out_wish_ == wish.out;
  auto opened = open_(wish.out, wish.latency);
  out_wish_ = wish.out;
  out_latency_ = wish.latency;
  out_port_ = opened.port;
  out_words_ = opened.words;
  out_notice_ = opened.notice;
  out_idle_for_ = opened.idle_for;
  out_xruns_ = opened.xruns;
  out_api_ = opened.api;
  out_lost_ = out_loose_ = out_again_ = false;
  out_on_jack_ = opened.driver == "jack";
  out_instead_ = opened.instead;
  out_silent_ = opened.silent;
  out_since_ = Clock::now();
  auto sender = std::make_unique<midi::Sender>(
      std::make_unique<midi::RoutedOutput>(std::move(opened.output), routing_),
      conductor_.transport_link());
  sender_ = sender.get();
  if (again) // what it was sent before it went may still sound
    sender->panic();
  conductor_.add(std::move(sender));
  output_open_ = true;
  publish(false);
}

void Devices::abandon() {
  abandoned = true;
}

bool Devices::is_missing(const std::string& wish, bool has_it) {
  return !wish.empty() && wish != "none" && wish != "virtual" && !has_it;
}

std::string Devices::input_words() const {
  std::string words;
  for (const auto& input : inputs_.open()) {
    if (input.role == InputRole::controls)
      continue;
    const bool teacher = input.role == InputRole::teacher;
    words += input.name == "virtual" ? (teacher ? "our port teacher" : "our port in")
                                     : short_name(input.name) + (teacher ? " teacher" : " in");
    words += " · ";
  }
  if (const auto clock = inputs_.clock_port(); !clock.empty())
    words += "clock of " + (clock == "virtual" ? "our port" : short_name(clock)) + " · ";
  return words;
}

std::string Devices::notice() const {
  if (!out_notice_.empty())
    return out_notice_;
  if (!out_answered_ && Clock::now() < out_since_ + notice_stays)
    return "the output did not answer and was opened again";
  if (auto notice = extras_.notice(); !notice.empty())
    return notice;
  if (server_hangs() && inputs_.uses("jack"))
    return "the sound server does not answer";
  return inputs_.notice();
}

void Devices::publish(bool looked) {
  {
    const Lock lock(mutex_);
    state_.ports = input_words() + out_words_ + extras_.words(routes_);
    state_.notice = notice();
    state_.has_input = inputs_.has(InputRole::player);
    state_.inputs = inputs_.open();
    state_.follows_clock = !inputs_.clock_port().empty();
    state_.lists = watcher_.ports();
    state_.ready = output_open_;
    state_.xruns = out_xruns_;
    state_.looked = state_.looked || looked;
    state_.output_missing = out_instead_;
    state_.input_missing = is_missing(wish_.in, inputs_.has(InputRole::player)) ||
                           is_missing(wish_.teacher, inputs_.has(InputRole::teacher));
  }
  changed_.notify_all();
}

} // namespace landfall::app
