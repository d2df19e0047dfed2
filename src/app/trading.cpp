#include "app/trading.hpp"

#include "app/setting.hpp"
#include "midi/message.hpp"
#include "practice/groove.hpp"

#include <algorithm>
#include <cmath>

namespace landfall::app {
namespace {

constexpr std::size_t past_kept = 8;
constexpr Ticks lead = quarter / 4;        ///< A pick-up's first note must still be played in time.
constexpr Ticks final_after = quarter * 2; ///< From a turn's end until it is judged for good.

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

void add_bend(std::vector<midi::PlannedMessage>& messages, const trade::PhraseNote& note,
              Ticks at) {
  if (!note.bend_cents)
    return;
  constexpr int steps = 8, centre = 8192;
  for (int step = 1; step <= steps; ++step) {
    const double cents = *note.bend_cents * step / steps;
    const int value = std::clamp(centre + static_cast<int>(std::lround(cents / 200.0 * centre)), 0,
                                 2 * centre - 1);
    messages.push_back(
        {at + note.length * step / (steps * 4), {}, midi::bend(call_channel, value)});
  }
  messages.push_back({at + note.length, {}, midi::bend(call_channel, centre)});
}

} // namespace

std::vector<midi::PlannedMessage> messages_of(const trade::Phrase& phrase, Ticks at) {
  std::vector<midi::PlannedMessage> messages;
  for (const auto& note : phrase.notes) {
    messages.push_back({at + note.start, note.length,
                        midi::note_on(call_channel, note.midi.number, note.velocity)});
    add_bend(messages, note, at + note.start);
  }
  std::ranges::stable_sort(messages, {}, &midi::PlannedMessage::at);
  return messages;
}

neck::Position next_place(const neck::Instrument& instrument, theory::Key key,
                          const neck::Position& from) {
  const auto places = neck::all_positions(instrument, key);
  const auto next =
      std::ranges::find_if(places, [&](const auto& place) { return place.low > from.low; });
  return next != places.end() ? *next : places.empty() ? from : places.front();
}

std::string kind_words(const TradeChoice& choice) {
  switch (choice.kind) {
  case trade::AnswerKind::echo:
    return choice.elsewhere ? "echo in the next place" : "echo";
  case trade::AnswerKind::rhythm:
    return "same rhythm";
  case trade::AnswerKind::free:
    break;
  }
  return "free";
}

std::string density_words(const Trading& trading) {
  return trading.drilling() ? "kept phrase"
                            : trade::between(trading.densities(), trading.amount()).name;
}

Trading::Trading(std::uint64_t seed, std::vector<trade::Density> densities)
    : seed_(seed), densities_(std::move(densities)), row_(seed, densities_) {}

void Trading::restart() {
  turns_.clear();
  past_.clear();
  settled_ = true;
  verdict_ = {};
  count_ = 0;
  skip_ = false;
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
  const auto& performance = around.snapshot->timeline->performance;
  bool plays = false;
  if (!settled_)
    settle(around);
  while (turns_.size() > 1 && around.now >= turns_.front().turn.end)
    finish();
  if (turns_.empty())
    return prepare(around, std::max(around.now + quarter + lead, Ticks{}));
  auto& present = turns_.front();
  if (std::exchange(skip_, false)) {
    present.turn.end = performance.bar_line_from(around.now + present.turn.beat + lead);
    present.turn.answer = std::min(present.turn.answer, present.turn.end);
    turns_.resize(1);
    plays = true;
  }
  if (turns_.size() == 1 && around.now >= present.turn.end - present.turn.beat - lead)
    plays = prepare(around, present.turn.end) || plays;
  record(around);
  judge(around);
  return plays;
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
    next.call = next_phrase(around, next);
    ask(around, next);
  }
  ++count_;
  turns_.push_back(std::move(next));
  return turns_.back().turn.has_call();
}

trade::Phrase Trading::next_phrase(const Around& around, const practice::TradeTurn& turn) {
  const auto& performance = around.snapshot->timeline->performance;
  const auto blank = practice::blank_over(performance, turn.turn.call, turn.turn.answer);
  if (choice_.teacher)
    return next_ = Next::fresh, blank;
  const auto here = setting(around, turn.turn.call, false);
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
  place.setting = setting(around, turn.turn.call, false);
  const auto chosen = timeline.choice_at(turn.turn.call).feel;
  if (const auto* feel = around.feels->find(chosen.empty() ? moment->bar->feel : chosen))
    place.groove = practice::groove_of(*feel);
  place.tempo = timeline.tempo_at(turn.turn.call);
  made_ = true;
  return row_.next(place).phrase;
}

/// The place at a tick, in its bar's key; the next one up the neck if asked for.
neck::Setting Trading::setting(const Around& around, Ticks at, bool elsewhere) const {
  const auto& timeline = *around.snapshot->timeline;
  auto choice = timeline.choice_at(at);
  choice.place = around.place;
  auto result = setting_of(*around.instrument, choice);
  result.fitting = around.fitting;
  if (const auto moment = timeline.performance.at(at))
    result = in_key(result, moment->bar->key);
  if (elsewhere)
    result.home = next_place(*around.instrument, result.key, result.home);
  return result;
}

/// What the call is as an answer, over the answer's bars.
void Trading::ask(const Around& around, practice::TradeTurn& turn) const {
  const auto& performance = around.snapshot->timeline->performance;
  const auto blank = practice::blank_over(performance, turn.turn.answer, turn.turn.end);
  turn.asked = answer_for(turn.call, blank, setting(around, turn.turn.answer, choice_.elsewhere));
}

/// A teacher's call is what was played in its bars.
void Trading::record(const Around& around) {
  auto& present = turns_.front();
  const auto& turn = present.turn;
  if (!choice_.teacher || !turn.has_call() || around.now < turn.call ||
      around.heard > turn.answer + quarter)
    return;
  const auto& performance = around.snapshot->timeline->performance;
  present.call =
      practice::phrase_of(around.teacher, practice::blank_over(performance, turn.call, turn.answer),
                          turn.call, turn.answer - Ticks{1});
  last_call_ = present.call;
  ask(around, present);
}

void Trading::judge(const Around& around) {
  const auto& present = turns_.front();
  verdict_ =
      practice::judge_turn(present, around.player, around.changes,
                           around.snapshot->timeline->tempo_at(present.turn.answer), around.heard);
}

void Trading::finish() {
  past_.emplace_back(turns_.front(), verdict_);
  settled_ = false;
  turns_.pop_front();
  if (past_.size() > past_kept)
    past_.pop_front();
}

/// Once all that can matter has been heard.
void Trading::settle(const Around& around) {
  auto& [turn, verdict] = past_.back();
  settled_ = around.heard >= turn.turn.end + final_after;
  verdict = practice::judge_turn(turn, around.player, around.changes,
                                 around.snapshot->timeline->tempo_at(turn.turn.answer),
                                 settled_ ? std::nullopt : std::optional(around.heard));
  if (settled_)
    finished_.push_back(past_.back());
}

std::string Trading::summary() const {
  if (!past_.empty())
    return "last answer: " + past_.back().second.words;
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
