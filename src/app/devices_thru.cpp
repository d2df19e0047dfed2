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
  if (const auto& player = thru_[player_input]; player.opening != 0)
    for (const int channel : player.map.channels)
      if (channel >= 0 && std::find(channels.begin(), channels.end(), channel) == channels.end())
        channels.push_back(channel);
  conductor_.send_sounds(channels);
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

Devices::Lane Devices::wanted_lane(std::uint8_t lane, const DeviceWish& wish) const {
  const auto opening = inputs_.opening_of(lane);
  if (!wish.thru || opening == 0)
    return {};
  const auto voice = lane == player_input ? Voice::lead : Voice::teacher;
  auto* extra = extras_.sender_of(voice, routes_);
  return {opening, wish.controls, extra == nullptr ? sender_ : extra, thru_map(lane, wish),
          setup_on(lane, wish)};
}

void Devices::end_thru() {
  for (const auto lane : lanes)
    inputs_.set_thru(lane, nullptr);
  thru_ = {};
}

/// What an input sounds goes into a lane of its own. A lane is closed before it changes, which ends
/// its notes: the end of a held note might belong to a control by now. The other stays as it is.
void Devices::connect_thru(const DeviceWish& wish) {
  if (sender_ == nullptr)
    return;
  std::vector<std::uint8_t> changed;
  for (const auto lane : lanes)
    if (auto wanted = wanted_lane(lane, wish); !(wanted == thru_[lane])) {
      inputs_.set_thru(lane, nullptr);
      close_lane(sender_, lane);
      for (const auto voice : {Voice::lead, Voice::teacher})
        close_lane(extras_.sender_of(voice, routes_), lane);
      thru_[lane] = std::move(wanted);
      if (thru_[lane].opening != 0)
        changed.push_back(lane);
    }
  if (changed.empty())
    return;
  std::this_thread::sleep_for(std::chrono::milliseconds(5)); // until the senders have seen it
  send_sounds();
  for (const auto lane : changed) {
    open_lane(lane);
    inputs_.set_thru(lane, thru_[lane].sender);
  }
}

void Devices::close_lane(midi::Sender* sender, std::uint8_t lane) {
  if (sender == nullptr)
    return;
  sender->thru(lane).open = false;
  ++sender->thru(lane).cuts; // it may be open again before the sender looks
  sender->wake();
}

void Devices::open_lane(std::uint8_t lane) {
  const auto& map = thru_[lane].map;
  if (plays_by_synth(lane == player_input ? Voice::lead : Voice::teacher)) {
    const auto& setup = thru_[lane].setup;
    const int half_steps = setup.bend_semitones.value_or(midi::usual_bend_semitones(setup.mode));
    std::uint16_t done = 0;
    for (const int channel : map.channels)
      if (channel >= 0 && (done >> channel & 1) == 0) {
        done |= static_cast<std::uint16_t>(1U << static_cast<unsigned>(channel));
        for (const auto& message : bend_range(channel, half_steps))
          conductor_.play_now(message, Clock::now());
      }
  }
  auto& thru = thru_[lane].sender->thru(lane);
  thru.map.publish(map);
  thru.open = true;
  thru_[lane].sender->wake();
}

void Devices::cut_thru(std::uint8_t input) {
  if (input > teacher_input || thru_[input].sender == nullptr)
    return;
  ++thru_[input].sender->thru(input).cuts;
  thru_[input].sender->wake();
}

} // namespace landfall::app
