#pragma once

#include "app/command_line.hpp"
#include "app/recorder.hpp"
#include "app/trading.hpp"

namespace landfall::app {

/// --trade, --turns, --density and --phrase.
struct TradeOptions {
  std::string kind, density, phrase;
  int bars = 2;
  bool player_begins = false;

  void add(CommandLine& app);
  bool wanted() const { return !kind.empty(); }
};

/// A trade without a window: calls sound with the band, answers are heard from the player's input.
/// One thread.
class PlayTrade {
public:
  /// Throws UsageError for a wrong value of an option; `problems` are lines about files.
  PlayTrade(const TradeOptions& options, std::uint64_t seed, const neck::Instrument& instrument,
            std::shared_ptr<const band::FeelBook> feels, std::vector<std::string>& problems);

  /// Every event up to `heard` was heard by the listener. Turns that are over go to `recorder`.
  void advance(Conductor& conductor, const Listener& listener, Recorder& recorder, Ticks now,
               Ticks heard);
  /// The performance ended at `now`; the listener has finished.
  void end(const Snapshot& last, const Listener& listener, Recorder& recorder, Ticks now);

  /// All turns that are over, as they were judged while it played.
  const std::vector<JudgedTurn>& turns() const { return turns_; }
  /// Lines for turns that were judged since the last call.
  std::vector<std::string> take_lines() { return std::exchange(lines_, {}); }

private:
  Trading::Around around(const Snapshot& snapshot, const Listener& listener, Ticks now,
                         Ticks heard) const;
  void collect(Recorder& recorder);

  neck::Instrument instrument_;
  std::shared_ptr<const band::FeelBook> feels_;
  Trading trading_;
  std::vector<JudgedTurn> turns_;
  std::vector<std::string> lines_;
};

} // namespace landfall::app
