#pragma once

#include "midi/message.hpp"

#include <array>

namespace landfall::midi {

/// Where what is played on each channel of an input sounds. Plain data of fixed size, for a
/// Latest<>.
struct ThruMap {
  static constexpr std::int8_t dropped = -1;

  std::array<std::int8_t, channel_count> channels{}; ///< 0 to 15, or dropped.
  /// The channel that speaks for a zone's members (MPE 1.0), 0 to 15; -1: none. What it says, but
  /// for notes, goes to all members, and its bend is added to theirs.
  std::int8_t manager = -1;
  std::uint16_t members = 0; ///< Bit n: channel n.
  /// What a full bend of the manager is in terms of a member's: 2 half steps of 48.
  float manager_bend = 0;

  bool operator==(const ThruMap&) const = default;
};

/// Every channel as itself.
ThruMap straight_thru();
/// All channels in one.
ThruMap folded_thru(int channel);
/// The same without the channels that are not in `heard` (bit n: channel n).
ThruMap only(ThruMap map, std::uint16_t heard);

/// Passes an input's channel messages on by a map. Real-time safe; one thread.
class Thru {
public:
  /// One message may become one for each member.
  static constexpr std::size_t most = channel_count;
  struct Passed {
    std::array<ShortMessage, most> messages;
    std::size_t count = 0;
  };

  void set(const ThruMap& map) noexcept;
  Passed pass(const ShortMessage& message) noexcept;

private:
  ShortMessage bent(int channel) const noexcept;

  ThruMap map_ = straight_thru();
  std::array<int, channel_count> bends_{}; ///< -8192 to 8191, by the input's channel.
};

} // namespace landfall::midi
