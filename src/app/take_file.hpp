#pragma once

#include "app/listener.hpp"
#include "app/song_file.hpp"
#include "practice/take.hpp"
#include "practice/trade_turn.hpp"

#include <filesystem>

namespace landfall::app {

/// A recorded performance, with all that it takes to judge it again.
struct Take {
  practice::TakeHead head;
  std::shared_ptr<const neck::Instrument> instrument; ///< Never null.
  midi::InputSetup input;                             ///< How the player's messages are read.
  std::optional<int> split;
  /// In the order of their ticks. The input's latency is off already: what was played to a beat
  /// lies on it.
  std::vector<PlayerMessage> player;
  std::vector<practice::TradeTurn> trade; ///< Turns of a trade that are over, in order.
};

/// A standard MIDI file: the tracks of song_file.hpp, the player's, and in the first track text
/// events that hold the take's head and, as JSON, instrument, input and the turns of a trade.
/// `band` is what it played.
std::vector<std::uint8_t> take_bytes(const Take& take, std::span<const practice::Plan> band,
                                     const band::FeelBook& feels);

/// Reads one of ours back. The error is one line; `other` is set for MIDI files that are not ours.
struct ReadTake {
  std::optional<Take> take;
  midi::smf::File file; ///< All of it, where it could be read.
  std::string error;
  bool other = false;
};
ReadTake read_take(const std::string& bytes);

/// Listens to the player's messages of a take, in one go.
ear::Judgement judge_take(const Take& take, const std::shared_ptr<const band::FeelBook>& feels);

/// A turn of a trade with the verdict that it had while it was played.
struct JudgedTurn {
  practice::TradeTurn turn;
  practice::TurnVerdict verdict;
};

/// Changes and notes of a take, and the turns of its trade: all that was said live.
struct Reviewed {
  ear::Judgement judgement;
  std::vector<JudgedTurn> trade;
};
Reviewed review_take(const Take& take, const std::shared_ptr<const band::FeelBook>& feels);

/// Gives every event of a player's messages, in order, with its tick.
void read_player(std::span<const PlayerMessage> player, const midi::InputSetup& input,
                 const std::function<void(const midi::InputEvent&, Ticks)>& take);

/// The channel messages of a track, those of `channel` only if one is given.
std::vector<PlayerMessage> player_of(const midi::smf::Track& track, std::optional<int> channel,
                                     Ticks from);

} // namespace landfall::app
