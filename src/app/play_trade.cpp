#include "app/play_trade.hpp"

#include "app/densities.hpp"
#include "app/music_options.hpp"
#include "app/own_sets.hpp"
#include "app/phrase_files.hpp"

#include <algorithm>

namespace landfall::app {
namespace {

constexpr const char* kinds = "echo, next-place, next-key, rhythm or free";

TradeChoice choice_of(const TradeOptions& options, const std::vector<trade::Density>& densities) {
  TradeChoice choice;
  choice.division = {options.bars, options.bars, options.player_begins};
  using enum trade::AnswerKind;
  if (options.kind == "next-place")
    choice.echo = EchoPlace::next_place;
  else if (options.kind == "next-key")
    choice.echo = EchoPlace::next_key;
  else if (options.kind == "rhythm")
    choice.kind = rhythm;
  else if (options.kind == "free")
    choice.kind = free;
  else if (options.kind != "echo")
    throw UsageError{std::string("--trade: expected ") + kinds + ", not '" + options.kind + "'"};
  if (options.density.empty())
    return choice;
  const auto found = std::ranges::find(densities, options.density, &trade::Density::name);
  if (found == densities.end())
    throw UsageError{"--density: expected sparse, medium or dense, not '" + options.density + "'"};
  choice.density = static_cast<std::size_t>(found - densities.begin());
  return choice;
}

} // namespace

void TradeOptions::add(CommandLine& app) {
  app.option("--trade", kind, std::string("Trade phrases: how you answer, ") + kinds)
      .values({"echo", "next-place", "next-key", "rhythm", "free"});
  app.option("--turns", bars, "Bars of a call, and of its answer").range(1, 8).show_default();
  app.option("--density", density, "sparse, medium or dense; without it, as your answers are")
      .values({"sparse", "medium", "dense"});
  app.option("--phrase", phrase, "A kept phrase as the call: its name, or a path")
      .names("phrases", true);
  app.flag("--player-begins", player_begins, "The first turn is yours");
}

PlayTrade::PlayTrade(const TradeOptions& options, std::uint64_t seed,
                     const neck::Instrument& instrument,
                     std::shared_ptr<const band::FeelBook> feels,
                     std::vector<std::string>& problems)
    : instrument_(instrument), feels_(std::move(feels)), trading_(seed, load_densities(problems)) {
  trading_.choose(choice_of(options, trading_.densities()));
  if (options.phrase.empty())
    return;
  auto kept = load_phrase(options.phrase);
  if (kept)
    trading_.drill(std::move(kept.value().phrase));
  else
    problems.push_back(kept.error());
}

Trading::Around PlayTrade::around(const Snapshot& snapshot, const Listener& listener, Ticks now,
                                  Ticks heard) const {
  Trading::Around around;
  around.snapshot = &snapshot;
  around.instrument = &instrument_;
  around.feels = feels_.get();
  around.fitting = &own_sets().fitting;
  around.player = listener.notes();
  around.changes = listener.changes();
  around.now = now;
  around.heard = heard;
  return around;
}

void PlayTrade::collect(Recorder& recorder) {
  for (auto& past : trading_.take_settled()) {
    lines_.push_back("turn " + std::to_string(past.turn.turn.number + 1) + ": " +
                     past.verdict.words);
    recorder.trade(past.turn);
    turns_.push_back({std::move(past.turn), std::move(past.verdict)});
  }
}

void PlayTrade::advance(Conductor& conductor, const Listener& listener, Recorder& recorder,
                        Ticks now, Ticks heard) {
  const auto snapshot = conductor.snapshot();
  if (!snapshot.transport.rolling)
    return;
  if (trading_.advance(around(snapshot, listener, now, heard)))
    conductor.play_with_band(trading_.calls());
  if (const auto commands = trading_.take_commands(); !commands.empty())
    conductor.apply(commands);
  collect(recorder);
}

void PlayTrade::end(const Snapshot& last, const Listener& listener, Recorder& recorder, Ticks now) {
  trading_.end(around(last, listener, now, now));
  collect(recorder);
}

} // namespace landfall::app
