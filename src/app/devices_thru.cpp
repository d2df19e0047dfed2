#include "app/chunks.hpp"
#include "app/devices.hpp"

#include <algorithm>

namespace landfall::app {
namespace {

constexpr std::array lanes{player_input, teacher_input};

/// MIDI 1.0, registered parameter 0: half steps of a full bend.
std::vector<midi::ShortMessage> bend_range(int channel, int half_steps) {
  using namespace midi;
  return {control(channel, controller::rpn, 0),
          control(channel, controller::rpn_fine, 0),
          control(channel, controller::data_entry, half_steps),
          control(channel, controller::data_entry_fine, 0),
          control(channel, controller::rpn, 127),
          control(channel, controller::rpn_fine, 127)};
}

std::int8_t lead_channel_of(int finger) {
  return static_cast<std::int8_t>(
      lead_channels[static_cast<std::size_t>(finger) % lead_channels.size()]);
}

} // namespace

void Devices::tend_extras(const DeviceWish& wish) {
  if (extras_.tend(wish.routes, watcher_.ports().outputs))
    abandon();
  route(wish);
}

void Devices::route(const DeviceWish& wish) {
  const auto open = extras_.open();
  if (wish.routes == routes_ && open == routed_to_)
    return;
  routes_ = wish.routes;
  routed_to_ = open;
  routing_.publish(routing_for("", routes_, open));
  send_sounds();
}

/// The player's sound is chosen on each channel where strings or fingers have one.
void Devices::send_sounds() {
  std::vector<int> channels{lead_channel};
  for (const int channel : thru_.maps[player_input].channels)
    if (channel >= 0 && std::find(channels.begin(), channels.end(), channel) == channels.end())
      channels.push_back(channel);
  conductor_.send_sounds(thru_.inputs.empty() ? std::vector<int>{lead_channel} : channels);
}

/// Other synths may have one sound only: there all strings are on one channel.
bool Devices::plays_by_synth(Voice voice) const {
  const bool with_others = extras_.sender_of(voice, routes_) == nullptr;
  return with_others && out_port_.empty() && out_wish_ != "virtual";
}

midi::InputSetup Devices::setup_on(std::uint8_t lane, const DeviceWish& wish) const {
  for (const auto& input : inputs_.open())
    if (input.number == lane)
      return setup_of(wish.setups, input.name);
  return {};
}

midi::ThruMap Devices::thru_map(std::uint8_t lane, const DeviceWish& wish) const {
  auto map = midi::folded_thru(lane == player_input ? lead_channel : teacher_channel);
  const auto setup = setup_on(lane, wish);
  if (lane == player_input && plays_by_synth(Voice::lead)) {
    if (setup.mode == midi::InputMode::per_string)
      for (int string = 0; string < setup.strings; ++string)
        map.channels[static_cast<std::size_t>((setup.base_channel + string) %
                                              midi::channel_count)] = lead_channel_of(string);
    else if (setup.mode != midi::InputMode::one_channel)
      spread_zone(map, setup.mode == midi::InputMode::mpe_lower);
  }
  return midi::only(map, wish.thru_channels);
}

void Devices::spread_zone(midi::ThruMap& map, bool lower) {
  map.manager = lower ? 0 : midi::channel_count - 1;
  for (int finger = 0; finger < midi::channel_count - 1; ++finger) {
    const int channel = lower ? finger + 1 : midi::channel_count - 2 - finger;
    map.channels[static_cast<std::size_t>(channel)] = lead_channel_of(finger);
    map.members |= static_cast<std::uint16_t>(1U << static_cast<unsigned>(channel));
  }
  map.manager_bend = static_cast<float>(midi::plain_bend_semitones) / midi::mpe_bend_semitones;
}

Devices::ThruState Devices::wanted_thru(const DeviceWish& wish) const {
  const bool any = inputs_.has(InputRole::player) || inputs_.has(InputRole::teacher);
  if (!wish.thru || !any)
    return {};
  ThruState thru{inputs_.open(), inputs_.openings(), wish.controls, {}, {}, {}};
  for (const auto lane : lanes) {
    const auto voice = lane == player_input ? Voice::lead : Voice::teacher;
    auto* extra = extras_.sender_of(voice, routes_);
    thru.senders[lane] = extra == nullptr ? sender_ : extra;
    thru.maps[lane] = thru_map(lane, wish);
    thru.setups[lane] = setup_on(lane, wish);
  }
  return thru;
}

/// What an input sounds goes into a lane of its own. Lanes are closed before they change, which
/// ends their notes: the end of a held note might belong to a control by now.
void Devices::connect_thru(const DeviceWish& wish) {
  if (sender_ == nullptr)
    return;
  auto wanted = wanted_thru(wish);
  if (wanted == thru_)
    return;
  inputs_.set_thru({});
  for (const auto lane : lanes) {
    close_lane(sender_, lane);
    for (const auto voice : {Voice::lead, Voice::teacher})
      close_lane(extras_.sender_of(voice, routes_), lane);
  }
  thru_ = std::move(wanted);
  if (thru_.inputs.empty())
    return;
  std::this_thread::sleep_for(std::chrono::milliseconds(5)); // until the senders have seen it
  send_sounds();
  for (const auto lane : lanes)
    open_lane(lane);
  inputs_.set_thru(thru_.senders);
}

void Devices::close_lane(midi::Sender* sender, std::uint8_t lane) {
  if (sender == nullptr)
    return;
  sender->thru(lane).open = false;
  ++sender->thru(lane).cuts; // it may be open again before the sender looks
  sender->wake();
}

void Devices::open_lane(std::uint8_t lane) {
  const auto& map = thru_.maps[lane];
  if (plays_by_synth(lane == player_input ? Voice::lead : Voice::teacher)) {
    const auto& setup = thru_.setups[lane];
    const int half_steps = setup.bend_semitones.value_or(midi::usual_bend_semitones(setup.mode));
    std::uint16_t done = 0;
    for (const int channel : map.channels)
      if (channel >= 0 && (done >> channel & 1) == 0) {
        done |= static_cast<std::uint16_t>(1U << static_cast<unsigned>(channel));
        for (const auto& message : bend_range(channel, half_steps))
          conductor_.play_now(message, Clock::now());
      }
  }
  auto& thru = thru_.senders[lane]->thru(lane);
  thru.map.publish(map);
  thru.open = true;
  thru_.senders[lane]->wake();
}

void Devices::cut_thru(std::uint8_t input) {
  if (input > teacher_input || thru_.senders[input] == nullptr)
    return;
  ++thru_.senders[input]->thru(input).cuts;
  thru_.senders[input]->wake();
}

} // namespace landfall::app
