#include "midi/thru_map.hpp"

#include <algorithm>
#include <cmath>

namespace landfall::midi {
namespace {

std::size_t index(int channel) {
  return static_cast<std::size_t>(channel);
}

bool is_in(std::uint16_t channels, int channel) {
  return (channels >> channel & 1) != 0;
}

int bend_of(const ShortMessage& m) {
  return ((m.bytes[1] & 0x7F) | (m.bytes[2] & 0x7F) << 7) - 8192;
}

} // namespace

ThruMap straight_thru() {
  ThruMap map;
  for (int channel = 0; channel < channel_count; ++channel)
    map.channels[index(channel)] = static_cast<std::int8_t>(channel);
  return map;
}

ThruMap folded_thru(int channel) {
  ThruMap map;
  map.channels.fill(static_cast<std::int8_t>(channel));
  return map;
}

ThruMap only(ThruMap map, std::uint16_t heard) {
  for (int channel = 0; channel < channel_count; ++channel)
    if (!is_in(heard, channel))
      map.channels[index(channel)] = ThruMap::dropped;
  map.members &= heard;
  return map;
}

void Thru::set(const ThruMap& map) noexcept {
  map_ = map;
  bends_.fill(0);
}

Thru::Passed Thru::pass(const ShortMessage& message) noexcept {
  Passed passed;
  const int channel = channel_of(message);
  const auto target = map_.channels[index(channel)];
  const bool is_bend = status_of(message) == Status::bend;
  if (is_bend)
    bends_[index(channel)] = bend_of(message);
  const bool is_note = is_note_on(message) || is_note_off(message);
  if (channel == map_.manager && !is_note) {
    for (int member = 0; member < channel_count; ++member)
      if (is_in(map_.members, member) && map_.channels[index(member)] != ThruMap::dropped)
        passed.messages[passed.count++] =
            is_bend ? bent(member) : on_channel(message, map_.channels[index(member)]);
    return passed;
  }
  if (target == ThruMap::dropped)
    return passed;
  const bool is_member = map_.manager >= 0 && is_in(map_.members, channel);
  passed.messages[passed.count++] =
      is_bend && is_member ? bent(channel) : on_channel(message, target);
  return passed;
}

/// A member's bend with its manager's.
ShortMessage Thru::bent(int channel) const noexcept {
  const float common = static_cast<float>(bends_[index(map_.manager)]) * map_.manager_bend;
  const int sum = bends_[index(channel)] + static_cast<int>(std::lround(common));
  return bend(map_.channels[index(channel)], std::clamp(sum, -8192, 8191));
}

} // namespace landfall::midi
