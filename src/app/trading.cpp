#include "app/trading.hpp"

#include "app/setting.hpp"
#include "practice/groove.hpp"

#include <algorithm>
#include <array>

namespace landfall::app {
namespace {

constexpr std::size_t past_kept = 8;
constexpr Ticks lead = quarter / 4; ///< A pick-up's first note must still be played in time.
constexpr int fourth = 5;           ///< Half steps up.
constexpr double answered_well = 0.8;

/// Twice as slow, over twice the bars.
trade::Phrase slowed(trade::Phrase phrase) {
  phrase.bars *= 2;
  phrase.length = phrase.length * 2;
  for (auto& chord : phrase.chords)
    chord.at = chord.at * 2;
  for (auto& note : phrase.notes) {
    note.start = note.start * 2;
    note.length = note.length * 2;
  }
  return phrase;
}

/// The bar line before `tick`, of the bar that ends there.
Ticks last_bar_before(const song::Performance& performance, Ticks tick) {
  const auto moment = performance.at(tick - Ticks{1});
  return moment ? moment->bar_start() : tick;
}

/// Empty bars in another key.
trade::Phrase moved(trade::Phrase blank, int half_steps) {
  if (half_steps == 0)
    return blank;
  const auto key = transposed(blank.key, half_steps);
  for (auto& chord : blank.chords)
    if (chord.chord)
      chord.chord = transposed(*chord.chord, blank.key, key);
  blank.key = key;
  return blank;
}

/// The hand stays where it is.
std::array<practice::Command, 2> key_commands(const neck::Instrument& instrument,
                                              const practice::Choice& now, int half_steps) {
  const auto key = transposed(now.key, half_steps);
  const auto home = practice::home_of(instrument, now.key, now.place);
  return {practice::SetKey{key}, practice::SetPlace{practice::kept_place(instrument, home, key)}};
}

} // namespace

Trading::Trading(std::uint64_t seed, std::vector<trade::Density> densities)
    : densities_(std::move(densities)), row_(seed, densities_) {}

void Trading::restart() {
  turns_.clear();
  past_.clear();
  verdict_ = {};
  count_ = 0;
  skip_ = false;
  away_.reset();
}

void Trading::end(const Around& around) {
  while (!turns_.empty() && around.now >= turns_.front().turn.end)
    finish();
  settle(around, true);
  turns_.clear();
  if (away_)
    come_home(around.snapshot->choice);
}

void Trading::choose(const TradeChoice& choice) {
  choice_ = choice;
  const auto most = static_cast<double>(std::max<std::size_t>(densities_.size(), 2) - 1);
  row_.pin(choice.density ? std::optional(static_cast<double>(*choice.density) / most)
                          : std::nullopt);
}

void Trading::drill(std::optional<trade::Phrase> phrase) {
  drilled_ = std::move(phrase);
  next_ = Next::fresh;
}

bool Trading::advance(const Around& around) {
  settle(around, false);
  while (turns_.size() > 1 && around.now >= turns_.front().turn.end)
    finish();
  if (turns_.empty())
    return prepare(around, std::max(around.now + quarter + lead, Ticks{}));
  bool plays = false;
  if (std::exchange(skip_, false))
    leave_early(around), plays = true;
  const auto& present = turns_.front().turn;
  follow_echo(around);
  if (turns_.size() == 1 && around.now >= present.end - present.beat - lead)
    plays = prepare(around, present.end) || plays;
  record(around);
  judge(around);
  return plays;
}

void Trading::leave_early(const Around& around) {
  auto& turn = turns_.front().turn;
  const auto& performance = around.snapshot->timeline->performance;
  turn.end = performance.bar_line_from(around.now + turn.beat + lead);
  turn.answer = std::min(turn.answer, turn.end);
  turns_.resize(1);
}

Trading::Move Trading::echo_move() const {
  return {choice_.echo == EchoPlace::next_key ? fourth : 0, choice_.echo == EchoPlace::next_place};
}

/// An echo elsewhere takes the board, and the band where it has to, along for its bars.
void Trading::follow_echo(const Around& around) {
  const auto& present = turns_.front();
  const auto& performance = around.snapshot->timeline->performance;
  const bool away = present.kind == trade::AnswerKind::echo && choice_.echo != EchoPlace::here &&
                    present.turn.has_call() &&
                    around.now >= last_bar_before(performance, present.turn.answer) &&
                    around.now < last_bar_before(performance, present.turn.end);
  if (away == away_.has_value())
    return;
  const auto& now = around.snapshot->choice;
  if (!away)
    return come_home(now);
  home_ = now.place;
  away_ = echo_move();
  apply(around, *away_);
}

void Trading::apply(const Around& around, Move move) {
  const auto& now = around.snapshot->choice;
  if (move.half_steps != 0)
    for (const auto& command : key_commands(*around.instrument, now, move.half_steps))
      commands_.push_back(command);
  if (move.next_place) {
    const auto home = practice::home_of(*around.instrument, now.key, now.place);
    commands_.push_back(
        practice::SetPlace{practice::request_for(next_place(*around.instrument, now.key, home))});
  }
}

void Trading::come_home(const practice::Choice& now) {
  const auto move = *std::exchange(away_, std::nullopt);
  if (move.half_steps != 0)
    commands_.push_back(practice::SetKey{transposed(now.key, -move.half_steps)});
  commands_.push_back(practice::SetPlace{home_});
}

/// A phrase that comes again takes its own bars, slowed ones twice as many.
trade::Division Trading::next_division() const {
  auto division = choice_.division;
  const auto& known = next_ != Next::fresh ? last_call_ : drilled_;
  if (known && !choice_.teacher)
    division.call_bars = division.answer_bars = known->bars * (next_ == Next::slow ? 2 : 1);
  return division;
}

/// Adds the turn that begins at `from`. False where it is not laid out yet.
bool Trading::prepare(const Around& around, Ticks from) {
  const auto& performance = around.snapshot->timeline->performance;
  const auto turn = trade::turn_from(performance, from, count_, next_division());
  if (!turn)
    return false;
  practice::TradeTurn next;
  next.turn = *turn;
  next.kind = turn->has_call() ? choice_.kind : trade::AnswerKind::free;
  if (turn->has_call()) {
    if (!turns_.empty() && made_ && verdict_.answered) {
      row_.answered(verdict_.share);
      made_ = false;
    }
    const auto move = drill_on(around);
    apply(around, move);
    next.call = next_phrase(around, next, move);
    ask(around, next, move);
  }
  ++count_;
  if (turns_.empty())
    shown_to_ = turn->end;
  turns_.push_back(std::move(next));
  return turns_.back().turn.has_call();
}

/// A kept phrase that was answered well goes on to the next place or key.
Trading::Move Trading::drill_on(const Around& around) {
  const bool well = !turns_.empty() && verdict_.answered && verdict_.share >= answered_well;
  if (!drilled_ || choice_.teacher || next_ != Next::fresh || !well)
    return {};
  const bool fretted = around.instrument->kind == neck::Instrument::Kind::fretted;
  return {choice_.drill == Drill::keys ? fourth : 0, choice_.drill == Drill::places && fretted};
}

trade::Phrase Trading::next_phrase(const Around& around, const practice::TradeTurn& turn,
                                   Move move) {
  const auto& performance = around.snapshot->timeline->performance;
  const auto blank =
      moved(practice::blank_over(performance, turn.turn.call, turn.turn.answer), move.half_steps);
  if (choice_.teacher)
    return next_ = Next::fresh, blank;
  const auto here = setting(around, turn.turn.call, move);
  const auto how = std::exchange(next_, Next::fresh);
  trade::Phrase phrase;
  if (how == Next::slow && last_call_)
    phrase = slowed(*last_call_);
  else if (how != Next::fresh && last_call_)
    phrase =
        answer_for(how == Next::easier ? trade::easier(*last_call_) : *last_call_, blank, here);
  else if (drilled_)
    phrase = answer_for(*drilled_, blank, here);
  else
    phrase = made(around, turn);
  if (how != Next::slow)
    last_call_ = phrase;
  return phrase;
}

trade::Phrase Trading::made(const Around& around, const practice::TradeTurn& turn) {
  const auto& timeline = *around.snapshot->timeline;
  const auto moment = timeline.performance.at(turn.turn.call);
  trade::CallPlace place;
  place.form = moment->stretch->form.get();
  place.bar = moment->bar->number;
  place.bars = choice_.division.call_bars;
  place.setting = setting(around, turn.turn.call, {});
  const auto chosen = timeline.choice_at(turn.turn.call).feel;
  if (const auto* feel = around.feels->find(chosen.empty() ? moment->bar->feel : chosen))
    place.groove = practice::groove_of(*feel);
  place.tempo = timeline.tempo_at(turn.turn.call);
  made_ = true;
  return row_.next(place).phrase;
}

/// The place at a tick, in its bar's key; then moved.
neck::Setting Trading::setting(const Around& around, Ticks at, Move move) const {
  const auto& timeline = *around.snapshot->timeline;
  const auto& instrument = *around.instrument;
  auto choice = timeline.choice_at(at);
  const auto moment = timeline.performance.at(at);
  auto bar_key = moment ? moment->bar->key : choice.key;
  if (move.half_steps != 0) {
    const auto home = practice::home_of(instrument, choice.key, choice.place);
    choice.key = transposed(choice.key, move.half_steps);
    choice.place = practice::kept_place(instrument, home, choice.key);
    bar_key = transposed(bar_key, move.half_steps);
  }
  auto result = in_key(setting_of(instrument, choice), bar_key);
  result.fitting = around.fitting;
  if (move.next_place)
    result.home = next_place(instrument, result.key, result.home);
  return result;
}

/// What the call is as an answer, over the answer's bars. While away they are those already. A turn
/// that is left before its answer asks for nothing.
void Trading::ask(const Around& around, practice::TradeTurn& turn, Move move) const {
  if (turn.turn.answer >= turn.turn.end)
    return;
  const auto& performance = around.snapshot->timeline->performance;
  if (turn.kind == trade::AnswerKind::echo && !away_) {
    const auto echo = echo_move();
    move.half_steps += echo.half_steps;
    move.next_place = move.next_place || echo.next_place;
  }
  const auto blank =
      moved(practice::blank_over(performance, turn.turn.answer, turn.turn.end), move.half_steps);
  turn.asked = answer_for(turn.call, blank, setting(around, turn.turn.answer, move));
}

/// A teacher's call is what was played in its bars.
void Trading::record(const Around& around) {
  auto& present = turns_.front();
  const auto& turn = present.turn;
  if (!choice_.teacher || !turn.has_call() || around.now < turn.call || turn.answer <= turn.call ||
      around.heard > turn.answer + quarter)
    return;
  const auto& performance = around.snapshot->timeline->performance;
  present.call =
      practice::phrase_of(around.teacher, practice::blank_over(performance, turn.call, turn.answer),
                          turn.call, turn.answer - Ticks{1});
  last_call_ = present.call;
  ask(around, present, {});
}

void Trading::judge(const Around& around) {
  const auto& present = turns_.front();
  verdict_ =
      practice::judge_turn(present, around.player, around.changes,
                           around.snapshot->timeline->tempo_at(present.turn.answer), around.heard);
}

void Trading::finish() {
  past_.push_back({std::move(turns_.front()), std::exchange(verdict_, {}), false});
  turns_.pop_front();
  if (!turns_.empty())
    shown_to_ = turns_.front().turn.end;
  if (past_.size() > past_kept)
    past_.pop_front();
}

/// Once all that can matter has been heard; or now, where nothing more comes.
void Trading::settle(const Around& around, bool all) {
  for (auto& past : past_) {
    if (past.settled)
      continue;
    const auto& turn = past.turn.turn;
    past.settled = all || around.heard >= turn.end + practice::judged_after;
    const auto tempo = around.snapshot->timeline->tempo_at(turn.answer);
    past.verdict =
        past.settled
            ? practice::final_verdict(past.turn, around.player, around.changes, tempo)
            : practice::judge_turn(past.turn, around.player, around.changes, tempo, around.heard);
    if (past.settled)
      settled_.push_back(past);
  }
}

std::string Trading::summary() const {
  if (!past_.empty())
    return "last answer: " + past_.back().verdict.words;
  return "";
}

std::vector<midi::PlannedMessage> Trading::calls() const {
  std::vector<midi::PlannedMessage> all;
  for (const auto& turn : turns_) {
    if (choice_.teacher || !turn.turn.has_call())
      continue;
    const auto messages = messages_of(turn.call, turn.turn.call);
    all.insert(all.end(), messages.begin(), messages.end());
  }
  std::ranges::stable_sort(all, {}, &midi::PlannedMessage::at);
  return all;
}

} // namespace landfall::app
