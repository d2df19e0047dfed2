#include "app/densities.hpp"
#include "app/own_sets.hpp"
#include "app/room.hpp"
#include "app/setting.hpp"

#include <algorithm>
#include <array>

namespace landfall::app {
namespace {

constexpr std::array turn_lengths{1, 2, 4};

/// A seed that is another one each time; a call is kept as it was, not its seed.
std::uint64_t fresh_seed() {
  return static_cast<std::uint64_t>(Clock::now().time_since_epoch().count());
}

} // namespace

Trading::Around Room::trade_around() const {
  const auto& transport = snapshot_.transport;
  Trading::Around around;
  around.snapshot = &snapshot_;
  around.instrument = &instrument_;
  around.feels = feels_.get();
  around.fitting = &own_sets().fitting;
  around.player = ear_.notes();
  around.teacher = settings_.teacher == "none" ? around.player : teacher_ear_.notes();
  around.changes = ear_.changes();
  around.now = transport.tick_at(Clock::now());
  around.heard = transport.tick_at(Clock::now() - hearing_delay(desk_.setup(player_input)));
  return around;
}

/// Each frame: turns begin and end, calls are made and handed to the band.
void Room::trade_on() {
  if (!trading_ || !snapshot_.transport.rolling)
    return;
  if (std::exchange(traded_run_, snapshot_.run) != snapshot_.run)
    trading_->restart();
  if (trading_->advance(trade_around()))
    conductor_.play_with_band(trading_->calls());
  obey_trade();
}

/// What the trade asks of the band and the hand, and turns that are over, for the take.
void Room::obey_trade() {
  if (const auto commands = trading_->take_commands(); !commands.empty())
    conductor_.apply(commands);
  for (auto& past : trading_->take_settled())
    recorder_.trade(std::move(past.turn));
}

/// The performance `run` ends at a tick, or the player goes back to Jam: turns that are over count.
void Room::end_trade(std::shared_ptr<const practice::Timeline> timeline, std::uint64_t run,
                     Ticks at) {
  if (!trading_ || traded_run_ != run)
    return;
  auto last = snapshot_;
  last.timeline = std::move(timeline);
  auto around = trade_around();
  around.snapshot = &last;
  around.now = around.heard = at;
  trading_->end(around);
  obey_trade();
}

void Room::show_trade(FrameInput& input, std::vector<SoundingNote>& sounding) {
  if (!trading_)
    return;
  TradeView view;
  view.turn = snapshot_.transport.rolling ? trading_->turn() : nullptr;
  view.verdict = &trading_->verdict();
  view.shown_to = trading_->shown_to();
  view.shown = trade_choice_.shown;
  view.kind = kind_words(trade_choice_) + " · " + density_words(*trading_);
  if (trade_choice_.teacher)
    view.kind = kind_words(trade_choice_) + " · calls from an instrument";
  input.summary = trading_->summary();
  input.hints = "/ again  ' half speed  8 easier  9 next  Tab jam  ? all keys";
  const auto called = called_notes(view, shown_tick(snapshot_, input.now));
  sounding.insert(sounding.begin(), called.begin(), called.end());
  input.sounding = sounding;
  input.trade = view;
}

void Room::toggle_trade() {
  if (trading_) {
    if (snapshot_.transport.rolling)
      end_trade(snapshot_.timeline, snapshot_.run, snapshot_.transport.tick_at(Clock::now()));
    trading_.reset();
    conductor_.play_with_band({});
    return say("jam");
  }
  std::vector<std::string> problems;
  trading_ = std::make_unique<Trading>(fresh_seed(), load_densities(problems));
  trading_->choose(trade_choice_);
  traded_run_ = snapshot_.run;
  say(problems.empty() ? "trade: the call, then your answer" : problems.front());
}

void Room::ask_for(void (Trading::*what)(), const char* words) {
  ((*trading_).*what)();
  say(words);
}

/// Echo here, in the next place, a fourth up; then its rhythm; then free.
void Room::next_kind() {
  using enum trade::AnswerKind;
  const bool fretted = instrument_.kind == neck::Instrument::Kind::fretted;
  auto& kind = trade_choice_.kind;
  auto& place = trade_choice_.echo;
  if (kind == echo && place == EchoPlace::here)
    place = fretted ? EchoPlace::next_place : EchoPlace::next_key;
  else if (kind == echo && place == EchoPlace::next_place)
    place = EchoPlace::next_key;
  else {
    kind = kind == echo ? rhythm : kind == rhythm ? free : echo;
    place = EchoPlace::here;
  }
  say("answer: " + kind_words(trade_choice_));
}

void Room::next_drill() {
  auto& drill = trade_choice_.drill;
  drill = drill == Drill::stays    ? Drill::places
          : drill == Drill::places ? Drill::keys
                                   : Drill::stays;
  say(drill == Drill::stays    ? "a kept phrase stays where it is"
      : drill == Drill::places ? "answered well, it goes on to the next place"
                               : "answered well, it goes on a fourth up");
}

void Room::next_density() {
  auto& density = trade_choice_.density;
  const auto& all = trading_->densities();
  if (!density)
    density = 0;
  else if (++*density >= all.size())
    density.reset();
  say(density ? all[*density].name + " calls" : "calls follow your answers");
}

void Room::next_length() {
  auto& division = trade_choice_.division;
  const auto now = std::find(turn_lengths.begin(), turn_lengths.end(), division.call_bars);
  const auto next =
      now == turn_lengths.end() || now + 1 == turn_lengths.end() ? turn_lengths.begin() : now + 1;
  division.call_bars = division.answer_bars = *next;
  say(*next == 1 ? "one bar each" : *next == 2 ? "two bars each" : "four bars each");
}

bool Room::perform_trade(Action action) {
  if (action == Action::trade)
    return toggle_trade(), true;
  if (!trading_)
    return false;
  switch (action) {
  case Action::call_again:
    ask_for(&Trading::again, "the same call again");
    break;
  case Action::half_speed:
    ask_for(&Trading::half_speed, "again, at half speed");
    break;
  case Action::easier_call:
    ask_for(&Trading::easier, "again, with fewer notes");
    break;
  case Action::next_call:
    ask_for(&Trading::skip, "on to the next call");
    break;
  case Action::show_call:
    trade_choice_.shown = !trade_choice_.shown;
    say(trade_choice_.shown ? "the call is drawn" : "the call is only heard");
    break;
  case Action::answer_kind:
    next_kind();
    break;
  case Action::density:
    next_density();
    break;
  case Action::turn_length:
    next_length();
    break;
  case Action::player_begins:
    trade_choice_.division.player_begins = !trade_choice_.division.player_begins;
    say(trade_choice_.division.player_begins ? "you begin the next time" : "the call begins");
    break;
  case Action::drill:
    next_drill();
    break;
  case Action::record_call:
    trade_choice_.teacher = !trade_choice_.teacher;
    say(trade_choice_.teacher ? "calls come from an instrument" : "calls are made for you");
    break;
  default:
    return false;
  }
  return trading_->choose(trade_choice_), true;
}

} // namespace landfall::app
