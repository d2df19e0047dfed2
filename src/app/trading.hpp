#pragma once

#include "app/conductor.hpp"
#include "practice/trade_turn.hpp"
#include "trade/call_row.hpp"

#include <deque>

namespace landfall::app {

/// Where an echo is played.
enum class EchoPlace : std::uint8_t {
  here,
  next_place, ///< In the next place up the neck.
  next_key,   ///< A fourth higher: the band goes along for the answer, the hand stays.
};

/// How a kept phrase goes on when it was answered well.
enum class Drill : std::uint8_t {
  stays,
  places, ///< To the next place up the neck.
  keys,   ///< To the key a fourth higher; the hand stays.
};

/// What the player chooses of a trade.
struct TradeChoice {
  trade::Division division;
  trade::AnswerKind kind = trade::AnswerKind::echo;
  EchoPlace echo = EchoPlace::here;
  std::optional<std::size_t> density; ///< Of the densities; none follows the answers.
  Drill drill = Drill::stays;
  bool shown = true;    ///< The call is drawn, not only heard.
  bool teacher = false; ///< Calls come from an instrument.

  bool operator==(const TradeChoice&) const = default;
};

/// A turn, and how its answer was.
struct PastTurn {
  practice::TradeTurn turn;
  practice::TurnVerdict verdict;
  bool settled = false; ///< Judged for good.
};

/// A trade while the band plays: turn after turn, what is called, and how the answers were.
/// Window's thread, or any one thread; reads no clock.
class Trading {
public:
  /// All that a call is made in.
  struct Around {
    const Snapshot* snapshot = nullptr;            ///< Never null.
    const neck::Instrument* instrument = nullptr;  ///< Never null.
    const band::FeelBook* feels = nullptr;         ///< Never null.
    const theory::FittingTable* fitting = nullptr; ///< Null for the default.
    std::span<const ear::HeardNote> player;        ///< What was heard of the one who answers ...
    std::span<const ear::HeardNote> teacher;       ///< ... and of the one who calls.
    std::span<const ear::JudgedChange> changes;    ///< Of the player.
    Ticks now;
    Ticks heard; ///< Up to here every event has been heard.
  };

  explicit Trading(std::uint64_t seed, std::vector<trade::Density> densities);

  /// Goes on. True if there is a call to be played: then calls() are all that are still to sound.
  bool advance(const Around& around);

  /// What the band and the hand have to do for it, since the last call of this.
  std::vector<practice::Command> take_commands() { return std::exchange(commands_, {}); }

  /// A new performance: from turn one again, the choice stays.
  void restart();

  /// The performance, or the trade, is over at `around.now`: turns that are over are judged for
  /// good, and an answer that is elsewhere comes home.
  void end(const Around& around);

  // What the next turn brings, in place of a new call.
  void again() { next_ = Next::again; }
  void half_speed() { next_ = Next::slow; }
  void easier() { next_ = Next::easier; }
  /// A phrase that is drilled: every call is this one, where it lies; none for made calls.
  void drill(std::optional<trade::Phrase> phrase);
  bool drilling() const { return drilled_.has_value(); }
  /// Leaves the present turn at the next bar line.
  void skip() { skip_ = true; }

  const TradeChoice& choice() const { return choice_; }
  void choose(const TradeChoice& choice);
  const std::vector<trade::Density>& densities() const { return densities_; }
  /// Where between them calls are made, 0 to 1.
  double amount() const { return row_.amount(); }

  /// The turn that is on, or about to be; null before the first.
  const practice::TradeTurn* turn() const { return turns_.empty() ? nullptr : &turns_.front(); }
  /// Where it would have ended, had it not been left.
  Ticks shown_to() const { return shown_to_; }
  /// The verdict on it so far.
  const practice::TurnVerdict& verdict() const { return verdict_; }
  /// Turns that are over, the last one last; a few.
  const std::deque<PastTurn>& past() const { return past_; }
  /// Turns that were judged for good since the last call of this.
  std::vector<PastTurn> take_settled() { return std::exchange(settled_, {}); }

  /// `last answer: 11 of 12 notes`; empty before one.
  std::string summary() const;

  /// Of the turn that is on and the one that is prepared.
  std::vector<midi::PlannedMessage> calls() const;

private:
  enum class Next : std::uint8_t { fresh, again, slow, easier };
  /// Where an answer, or a drilled phrase that goes on, is played.
  struct Move {
    int half_steps = 0;
    bool next_place = false;
  };

  bool prepare(const Around& around, Ticks from);
  Move drill_on(const Around& around);
  trade::Phrase next_phrase(const Around& around, const practice::TradeTurn& turn, Move move);
  trade::Phrase made(const Around& around, const practice::TradeTurn& turn);
  void record(const Around& around);
  void ask(const Around& around, practice::TradeTurn& turn, Move move) const;
  void judge(const Around& around);
  void finish();
  void settle(const Around& around, bool all);
  void leave_early(const Around& around);
  void follow_echo(const Around& around);
  void come_home(const practice::Choice& now);
  void apply(const Around& around, Move move);
  Move echo_move() const;
  trade::Division next_division() const;
  neck::Setting setting(const Around& around, Ticks at, Move move) const;

  std::vector<trade::Density> densities_;
  trade::CallRow row_;
  TradeChoice choice_;
  Next next_ = Next::fresh;
  bool skip_ = false;
  bool made_ = false; ///< The present call is the row's newest.
  std::optional<trade::Phrase> drilled_;
  std::optional<trade::Phrase> last_call_;
  std::deque<practice::TradeTurn> turns_; ///< The present, and the next once it is prepared.
  Ticks shown_to_;
  practice::TurnVerdict verdict_;
  std::deque<PastTurn> past_;
  std::vector<PastTurn> settled_;
  std::vector<practice::Command> commands_;
  std::optional<Move> away_;
  neck::PlaceRequest home_; ///< While away: the player's own place.
  int count_ = 0;
};

/// A phrase as messages on the calls' channel, `at` its first bar line: notes, and bends that reach
/// their pitch by a quarter of the note.
std::vector<midi::PlannedMessage> messages_of(const trade::Phrase& phrase, Ticks at);

/// Where an answer elsewhere is played: the next place up the neck, from the last the first.
neck::Position next_place(const neck::Instrument& instrument, theory::Key key,
                          const neck::Position& from);

/// `echo`, `echo in the next place`, `echo a fourth up`, `same rhythm`, `free`.
std::string kind_words(const TradeChoice& choice);

/// `medium`; of a row that follows the answers, the density that it is nearest to.
std::string density_words(const Trading& trading);

} // namespace landfall::app
