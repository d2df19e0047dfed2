#include "app/devices.hpp"
#include "midi/alsa_clients.hpp"

#include <algorithm>

namespace landfall::app {
namespace {

constexpr std::chrono::milliseconds hang_limit{500}; ///< After the first question without answer.
constexpr std::chrono::milliseconds recently{500};
constexpr int most_times_loose = 6; ///< In a row.

} // namespace

void Devices::look_around() {
  watcher_.poll(open_ports("jack"));
  const auto& jack = watcher_.jack();
  const auto before = std::exchange(server_state_, jack.state);
  if (before != jack.state)
    server_since_ = Clock::now();
  const bool is_back = before != jack.state && jack.state == midi::ServerState::present;
  const bool wants_it = out_silent_ || (out_wish_ == "virtual" && out_api_.empty());
  out_again_ = out_again_ || (is_back && wants_it);
  auto loose = midi::loose_alsa_ports(open_ports("alsa"));
  loose.insert(loose.end(), jack.loose.begin(), jack.loose.end());
  look_for_loose(std::move(loose));
  if (is_another_server(jack) || jack.state == midi::ServerState::absent)
    lose_server();
  else if (server_hangs()) // inputs may wait for it; what sounds must sound elsewhere
    lose_outputs_to_server();
}

/// Whether the one that we knew was replaced between two looks. One that comes after none was seen
/// is not another: what is open by then may be on it.
bool Devices::is_another_server(const midi::JackAnswer& jack) {
  if (jack.state == midi::ServerState::absent)
    server_ = 0;
  if (jack.state != midi::ServerState::present)
    return false;
  const int before = std::exchange(server_, jack.server);
  return before != 0 && before != jack.server;
}

bool Devices::server_hangs() const {
  return server_state_ == midi::ServerState::silent && Clock::now() - server_since_ >= hang_limit;
}

void Devices::lose_outputs_to_server() {
  out_lost_ = out_lost_ || out_api_ == "jack";
  extras_.lose("jack");
}

void Devices::lose_server() {
  lose_outputs_to_server();
  out_lost_ = out_lost_ || out_on_jack_;
  inputs_.lose("jack");
}

std::vector<std::string> Devices::open_ports(std::string_view api) const {
  auto names = inputs_.ports_of(api);
  if (out_api_ == api && !out_port_.empty())
    names.push_back(out_port_);
  const auto extras = extras_.ports_of(api);
  names.insert(names.end(), extras.begin(), extras.end());
  return names;
}

/// What was unplugged and plugged in again between two looks has the same name, and no connection.
/// Where opening it again does not help, it is left at that.
void Devices::look_for_loose(std::vector<std::string> loose) {
  const auto contains = [](const auto& list, const auto& name) {
    return std::find(list.begin(), list.end(), name) != list.end();
  };
  std::erase_if(found_loose_, [&](const auto& entry) { return !contains(loose, entry.first); });
  std::erase_if(loose, [&](const auto& name) { return ++found_loose_[name] > most_times_loose; });
  out_loose_ = out_loose_ || contains(loose, out_port_);
  inputs_.loosen(loose);
  extras_.loosen(loose);
}

/// A synth whose audio device hangs can't be closed, and may sound again when that goes on: it is
/// told to be silent by then.
void Devices::park(Parked synth) {
  synth.sender->stop();
  synth.sender->panic();
  parked_.push_back(std::move(synth));
}

/// Ends those whose device goes on; at the end, leaves the others behind.
void Devices::end_parked(bool all) {
  for (auto synth = parked_.begin(); synth != parked_.end();) {
    const bool dead = synth->idle_for(Clock::now()) > recently;
    if (dead && !all) {
      ++synth;
      continue;
    }
    if (end_sender(std::move(synth->sender), dead))
      abandon();
    synth = parked_.erase(synth);
  }
}

} // namespace landfall::app
