#include "practice/session.hpp"

#include "band/finish.hpp"
#include "band/harmony.hpp"
#include "practice/shaping.hpp"
#include "song/unroll.hpp"

#include <algorithm>
#include <utility>

namespace landfall::practice {
namespace {

constexpr std::int64_t bars_planned = 2;   ///< The band is planned at least so far ahead.
constexpr std::int64_t bars_laid_out = 16; ///< The lane can show at least so much of what comes.

Tempo in_proportion(Tempo written, Tempo head, Tempo chosen) {
  return {written.micros_per_quarter * chosen.micros_per_quarter / head.micros_per_quarter};
}

/// The tempo that the chart has in force at a form tick.
Tempo written_tempo(const song::Form& form, Ticks at) {
  Tempo tempo = form.tempo;
  for (const auto& bar : form.bars)
    if (bar.start <= at && bar.tempo)
      tempo = *bar.tempo;
  return tempo;
}

} // namespace

song::Form closed(const song::Form& form, Ticks from) {
  auto ending = form;
  const auto& last = bar_at(form, from);
  ending.bars.resize(static_cast<std::size_t>(last.number));
  auto home = ending.bars.back();
  home.number = last.number + 1;
  home.section_start = false;
  home.start += bar_length(home.meter);
  home.chords = {{Ticks{}, band::home_chord(form), true, true}};
  home.key = form.key;
  home.tempo.reset();
  home.space = false;
  ending.bars.push_back(home);
  ending.length = home.start + bar_length(home.meter);
  return ending;
}

Choice Timeline::choice_at(Ticks tick) const {
  auto choice = first;
  for (const auto& [at, command, by_itself] : applied)
    if (at <= tick)
      choice = with(std::move(choice), command);
  return choice;
}

Tempo Timeline::tempo_at(Ticks tick) const {
  const auto after = tempi.upper_bound(tick);
  return after == tempi.begin() ? first.tempo : std::prev(after)->second;
}

std::optional<std::pair<Ticks, Tempo>> Timeline::tempo_after(Ticks tick) const {
  const auto after = tempi.upper_bound(tick);
  return after == tempi.end() ? std::nullopt
                              : std::optional(std::pair(after->first, after->second));
}

Session::Session(Setup setup) : setup_(std::move(setup)), choice_(setup_.choice) {
  if (setup_.count_in_bars)
    choice_.count_in_bars = *setup_.count_in_bars;
  reset();
}

void Session::reset() {
  if (choice_.tempo_moves.choruses > 0)
    choice_.tempo = choice_.tempo_moves.from;
  laid_ = choice_;
  settled_ = {};
  key_moves_from_ = tempo_moves_from_ = 0;
  timeline_ = {};
  timeline_.first = choice_;
  plans_.clear();
  next_chorus_ = 0;
  planned_ = 0;
  started_ = loosened_ = steered_ = false;
  ending_form_.reset();
  if (choice_.count_in_bars > 0)
    timeline_.count_in = bar_length(form()->bars.front().meter) * choice_.count_in_bars;
  timeline_.tempi[-timeline_.count_in] = choice_.tempo;
  lay_out(bar_length(setup_.song->meter) * bars_laid_out);
}

void Session::start(bool counts_in) {
  reset();
  started_ = true;
  if (counts_in)
    plan_count_in();
  else
    skip_count_in();
  advance({});
}

void Session::apply(const Command& command, Ticks soonest) {
  const bool ends = std::holds_alternative<End>(command);
  if (!started_) {
    choice_ = with(std::move(choice_), command);
    return reset();
  }
  if (ends && ending())
    return;
  const bool moves = std::holds_alternative<SetKeyMoves>(command) ||
                     std::holds_alternative<SetTempoMoves>(command);
  Ticks at = soonest;
  if (boundary(command) == Boundary::beat)
    at = timeline_.performance.beat_from(soonest);
  else if (boundary(command) == Boundary::bar)
    at = timeline_.performance.bar_line_from(soonest);
  const auto before = moves ? at - Ticks{1} : at; // a move that is called off does not come
  settle(before);
  const bool relays =
      replans(command) ||
      (choice_.key_moves.every > 0 && std::holds_alternative<SetPlace>(command)) ||
      (choice_.tempo_moves.choruses > 0 && std::holds_alternative<SetTempo>(command));
  choice_ = with(std::move(choice_), command);
  if (ends || (relays && !ending()))
    forget_moves(before);
  record(at, command);
  if (moves)
    begin_moves(command, at);
  if (ends)
    end(at);
  else if (relays && !ending())
    replan(at);
  else if (std::holds_alternative<SetTempo>(command))
    change_tempo(at);
  else if (rearranges(command))
    rearrange(at);
}

void Session::record(Ticks at, const Command& command, bool by_itself) {
  const auto after = std::upper_bound(timeline_.applied.begin(), timeline_.applied.end(), at,
                                      [](Ticks tick, const Applied& a) { return tick < a.at; });
  timeline_.applied.insert(after, {at, command, by_itself});
}

void Session::advance(Ticks now) {
  if (!started_)
    return;
  settle(now);
  const auto bar = bar_length(setup_.song->meter);
  lay_out(now + bar * bars_laid_out);
  const auto& stretches = timeline_.performance.stretches();
  while (planned_ < stretches.size() && stretches[planned_].start < now + bar * bars_planned) {
    const auto& stretch = stretches[planned_++];
    plan(stretch, stretch.start);
  }
}

void Session::lay_out(Ticks until) {
  while (!finished() && timeline_.performance.end() < until)
    append_next();
}

std::optional<Ticks> Session::last_tick() const {
  return finished() ? std::optional(timeline_.performance.end()) : std::nullopt;
}

bool Session::finished() const {
  return ending() || (setup_.choruses > 0 && next_chorus_ >= setup_.choruses);
}

std::shared_ptr<const song::Form> Session::form() {
  if (form_ && form_key_ == laid_.key && form_feel_ == laid_.feel)
    return form_;
  auto form = std::make_shared<song::Form>(song::unroll(*setup_.song, laid_.key));
  if (!laid_.feel.empty())
    for (auto& bar : form->bars)
      bar.feel = laid_.feel;
  form_key_ = laid_.key;
  form_feel_ = laid_.feel;
  return form_ = form;
}

void Session::plan_count_in() {
  if (choice_.count_in_bars <= 0)
    return;
  const auto first = form();
  plans_.push_back({-timeline_.count_in, {}, {}, first->bars.front().feel});
  plans_.back().events = band::plan_count_in(*first, choice_.count_in_bars, *setup_.feels);
}

void Session::skip_count_in() {
  const auto first = timeline_.tempi.extract(-timeline_.count_in);
  timeline_.count_in = {};
  timeline_.tempi.emplace(Ticks{}, first.mapped()); // what is written there stays
}

void Session::append_next() {
  move_on(next_chorus_, timeline_.performance.end());
  const auto next = form();
  const auto [from, to] = loop_ticks(*next);
  append(next_chorus_++, next, from, to);
}

void Session::append(int chorus, const std::shared_ptr<const song::Form>& form, Ticks from,
                     Ticks to) {
  timeline_.performance.append(chorus, form, from, to);
  const auto& stretch = timeline_.performance.stretches().back();
  lay_tempi(stretch, stretch.start - Ticks{1});
}

void Session::plan(const song::Stretch& stretch, Ticks from) {
  band::Request request;
  const bool closes = stretch.form == ending_form_;
  const bool last = closes || (setup_.choruses > 0 && stretch.chorus + 1 >= setup_.choruses);
  request.form = stretch.form.get();
  request.next = last ? nullptr : stretch.form.get();
  request.chorus = stretch.chorus;
  request.seed = setup_.seed;
  request.intensity = choice_.intensity;
  request.ending = closes || (last && setup_.ending);
  request.humanised = choice_.arrangement.humanised;
  loosened_ = loosened_ || request.humanised;
  const auto loose = loosened_ ? band::loosest(*stretch.form) : Ticks{};
  Plan plan{std::max(from - loose, Ticks{}),
            stretch.end(),
            {},
            bar_at(*stretch.form, stretch.from).feel,
            choice_.arrangement.drone};
  plan.events = plan.drone ? drone(stretch, from)
                           : events_in(stretch, band::plan_chorus(request, *setup_.feels), loose);
  plan.events = arranged(std::move(plan.events), stretch, bars_before(stretch), choice_);
  if (from > stretch.start)
    std::erase_if(plan.events, [&](const band::Event& event) { return event.at < plan.from; });
  plans_.push_back(std::move(plan));
}

int Session::bars_before(const song::Stretch& stretch) const {
  int bars = 0;
  for (const auto& each : timeline_.performance.stretches()) {
    if (each.start >= stretch.start)
      break;
    bars += bars_in(each);
  }
  return bars;
}

/// The same bars, played anew from `at` on.
void Session::rearrange(Ticks at) {
  const auto& stretches = timeline_.performance.stretches();
  const auto first = std::find_if(stretches.begin(), stretches.end(),
                                  [&](const auto& stretch) { return stretch.end() > at; });
  for (auto i = static_cast<std::size_t>(first - stretches.begin()); i < planned_; ++i)
    plan(stretches[i], std::max(at, stretches[i].start));
}

void Session::steer(Ticks at, Tempo tempo) {
  steered_ = true;
  choice_.tempo = laid_.tempo = tempo;
  timeline_.tempi.erase(timeline_.tempi.lower_bound(at), timeline_.tempi.end());
  timeline_.tempi[at] = tempo;
}

void Session::lay_tempi(const song::Stretch& stretch, Ticks after) {
  if (steered_)
    return;
  const auto& form = *stretch.form;
  const auto lay = [&](Ticks at, Tempo written) {
    const auto tempo = in_proportion(written, setup_.song->tempo, laid_.tempo);
    if (at > after && timeline_.tempo_at(at) != tempo)
      timeline_.tempi[at] = tempo;
  };
  lay(stretch.start, written_tempo(form, stretch.from));
  for (const auto& bar : form.bars)
    if (bar.tempo && bar.start > stretch.from && bar.start < stretch.to)
      lay(stretch.start + (bar.start - stretch.from), *bar.tempo);
}

void Session::replan(Ticks at) {
  auto& performance = timeline_.performance;
  const auto moment = performance.at(at);
  if (!moment)
    return;
  const int chorus = moment->stretch->chorus;
  const auto here = moment->form_tick;
  const auto index = moment->stretch - performance.stretches().data();
  const bool was_planned = static_cast<std::size_t>(index) < planned_;
  performance.cut(at);
  planned_ = std::min(planned_, performance.stretches().size());
  timeline_.tempi.erase(timeline_.tempi.upper_bound(at), timeline_.tempi.end());
  next_chorus_ = chorus + 1;
  laid_ = choice_;
  const auto next = form();
  const auto [from, to] = loop_ticks(*next);
  const bool inside = here >= from && here < to;
  append(chorus, next, inside ? here : from, to);
  if (was_planned) {
    ++planned_;
    plan(performance.stretches()[planned_ - 1], at);
  }
  lay_out(at + bar_length(setup_.song->meter) * bars_laid_out);
}

void Session::end(Ticks at) {
  auto& performance = timeline_.performance;
  const auto moment = performance.at(at);
  if (!moment)
    return;
  const auto here = moment->bar->start;
  const int chorus = moment->stretch->chorus;
  const auto form = std::make_shared<const song::Form>(closed(*moment->stretch->form, here));
  performance.cut(at);
  planned_ = std::min(planned_, performance.stretches().size());
  timeline_.tempi.erase(timeline_.tempi.upper_bound(at), timeline_.tempi.end());
  laid_ = choice_;
  append(chorus, form, here, form->length);
  ending_form_ = form;
  while (planned_ < performance.stretches().size())
    plan(performance.stretches()[planned_], performance.stretches()[planned_].start), ++planned_;
}

void Session::change_tempo(Ticks at) {
  laid_.tempo = choice_.tempo;
  timeline_.tempi.erase(timeline_.tempi.lower_bound(at), timeline_.tempi.end());
  Tempo written = setup_.song->tempo;
  if (const auto moment = timeline_.performance.at(at))
    written = written_tempo(*moment->stretch->form, moment->form_tick);
  timeline_.tempi[at] = in_proportion(written, setup_.song->tempo, choice_.tempo);
  for (const auto& stretch : timeline_.performance.stretches())
    if (stretch.end() > at)
      lay_tempi(stretch, at);
}

std::pair<Ticks, Ticks> Session::loop_ticks(const song::Form& form) const {
  if (!choice_.loop)
    return {Ticks{}, form.length};
  const int count = static_cast<int>(form.bars.size());
  const auto index = [&](int bar) {
    return static_cast<std::size_t>(std::clamp(bar, 1, count) - 1);
  };
  const auto& last = form.bars[std::max(index(choice_.loop->first), index(choice_.loop->last))];
  return {form.bars[index(choice_.loop->first)].start, last.start + bar_length(last.meter)};
}

} // namespace landfall::practice
