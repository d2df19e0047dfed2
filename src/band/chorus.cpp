#include "band/chorus.hpp"

#include "time/random.hpp"

#include <algorithm>
#include <cmath>

namespace landfall::band {
namespace {

const Feel& feel_of(const song::Bar& bar, const song::Form& form, const FeelBook& feels) {
  const auto* feel = feels.find(bar.feel);
  if (feel == nullptr)
    feel = feels.find(form.feel);
  return feel == nullptr ? plain_feel() : *feel;
}

BarPlan planned(const song::Bar& bar, const song::Form& form, const FeelBook& feels) {
  BarPlan plan;
  plan.bar = &bar;
  plan.feel = &feel_of(bar, form, feels);
  plan.pulses = pulses(bar.meter);
  plan.feel_beats = static_cast<int>(pulses(plan.feel->meter).size());
  plan.beats = beats_for(plan.feel_beats, static_cast<int>(plan.pulses.size()));
  return plan;
}

constexpr int bars_in_phrase = 4;
constexpr int shortest_section_with_fill = 4;
constexpr int bars_between_fills = 8; // at least, where a short form comes round

/// Bars that were played before this chorus, as a plain loop counts them. Wraps after years.
int bars_before(const Request& request) {
  const auto count = static_cast<std::int64_t>(request.form->bars.size());
  return static_cast<int>(std::max(request.chorus, 0) * count % (1 << 20));
}

/// A loop shorter than a phrase goes on through the phrase.
void start(BarPlan& first, const Request& request) {
  const auto count = static_cast<int>(request.form->bars.size());
  first.round = request.chorus;
  first.left = count;
  if (count >= bars_in_phrase)
    return;
  first.bar_in_phrase = bars_before(request) % bars_in_phrase;
  first.round = bars_before(request) / bars_in_phrase;
}

int fill_round(const Request& request) {
  const bool every_chorus = request.form->bars.size() >= bars_between_fills;
  return every_chorus ? request.chorus : bars_before(request) / bars_between_fills;
}

/// Whether a fill leads from the chorus before `request` into it.
bool filled_before(const Request& request) {
  Request before = request;
  --before.chorus;
  return request.chorus > 0 && fill_round(before) != fill_round(request);
}

void follow(BarPlan& plan, const BarPlan& before, bool new_section) {
  const bool next_phrase = new_section || before.bar_in_phrase == bars_in_phrase - 1;
  plan.section = before.section + (new_section ? 1 : 0);
  plan.phrase = before.phrase + (next_phrase ? 1 : 0);
  plan.round = before.round;
  plan.bar_in_phrase = next_phrase ? 0 : before.bar_in_phrase + 1;
  plan.opens = new_section && before.fill >= 0;
  plan.left = before.left - 1;
}

/// Numbers sections, phrases and fills.
void number(Chorus& chorus) {
  Request after = chorus.request;
  ++after.chorus;
  int in_section = 0;
  for (std::size_t i = 0; i < chorus.bars.size(); ++i) {
    auto& plan = chorus.bars[i];
    const bool new_section = i > 0 && plan.bar->section_start;
    in_section = new_section ? 1 : in_section + 1;
    if (i > 0)
      follow(plan, chorus.bars[i - 1], new_section);
    else
      start(plan, chorus.request), plan.opens = filled_before(chorus.request);
    const bool last = plan.left == 1;
    const bool ends =
        last ? filled_before(after)
             : chorus.bars[i + 1].bar->section_start && in_section >= shortest_section_with_fill;
    if (ends)
      plan.fill = chorus.fills++;
  }
}

} // namespace

Chorus laid_out(const Request& request, const FeelBook& feels) {
  const Ticks end = request.form->length;
  Chorus chorus{request, {}, 0, fill_round(request), level_of(request.intensity), end, end};
  chorus.bars.reserve(request.form->bars.size());
  for (const auto& bar : request.form->bars)
    chorus.bars.push_back(planned(bar, *request.form, feels));
  number(chorus);
  return chorus;
}

BarPlan first_bar(const Request& request, const FeelBook& feels) {
  auto plan = planned(request.form->bars.front(), *request.form, feels);
  start(plan, request);
  return plan;
}

const LinePattern* chosen(const Chorus& chorus, const std::vector<LinePattern>& all, Part part,
                          const BarPlan& bar) {
  if (chorus.request.ending)
    for (const auto* ending : suiting(all, Role::ending, chorus.level))
      if (bar.left <= static_cast<int>(ending->line.bars.size()))
        return ending;
  const auto patterns = suiting(all, Role::groove, chorus.level);
  if (patterns.empty())
    return nullptr;
  const auto offset = drawn({chorus.request.seed, static_cast<std::uint64_t>(part),
                             static_cast<std::uint64_t>(bar.phrase)}) %
                      patterns.size();
  return patterns[(offset + static_cast<std::size_t>(bar.round)) % patterns.size()];
}

int velocity_of(char touch, int mix, double intensity) {
  const int plain = touch == ',' ? 38 : touch == 'o' ? 60 : touch == 'X' ? 102 : 82;
  const double clamped = intensity > 0 ? std::min(intensity, 1.0) : 0.0;
  const auto thousandths = 760 + std::lround(clamped * 440);
  const auto velocity = (plain * static_cast<long>(mix) * thousandths + 50'000) / 100'000;
  return static_cast<int>(std::clamp(velocity, 1L, 127L));
}

} // namespace landfall::band
