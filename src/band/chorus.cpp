#include "band/chorus.hpp"

#include "band/random.hpp"

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

/// Numbers sections, phrases and fills.
void number(Chorus& chorus) {
  const auto count = static_cast<int>(chorus.bars.size());
  int in_section = 0;
  for (int i = 0; i < count; ++i) {
    auto& plan = chorus.bars[static_cast<std::size_t>(i)];
    const bool starts = i > 0 && plan.bar->section_start;
    in_section = starts ? 0 : in_section + (i > 0 ? 1 : 0);
    if (i > 0) {
      const auto& before = chorus.bars[static_cast<std::size_t>(i - 1)];
      const bool next_phrase = starts || before.bar_in_phrase == bars_in_phrase - 1;
      plan.section = before.section + (starts ? 1 : 0);
      plan.phrase = before.phrase + (next_phrase ? 1 : 0);
      plan.bar_in_phrase = next_phrase ? 0 : before.bar_in_phrase + 1;
      plan.opens = starts && before.fill >= 0;
    } else
      plan.opens = chorus.request.chorus > 0;
    plan.left = count - i;
    const bool last = i + 1 == count;
    const bool ends = last || chorus.bars[static_cast<std::size_t>(i + 1)].bar->section_start;
    if (ends && (last || in_section + 1 >= shortest_section_with_fill))
      plan.fill = chorus.fills++;
  }
}

} // namespace

Chorus laid_out(const Request& request, const FeelBook& feels) {
  const Ticks end = request.form->length;
  Chorus chorus{request, {}, 0, level_of(request.intensity), end, end};
  chorus.bars.reserve(request.form->bars.size());
  for (const auto& bar : request.form->bars)
    chorus.bars.push_back(planned(bar, *request.form, feels));
  number(chorus);
  return chorus;
}

BarPlan first_bar(const Request& request, const FeelBook& feels) {
  auto plan = planned(request.form->bars.front(), *request.form, feels);
  plan.left = static_cast<int>(request.form->bars.size());
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
  return patterns[(offset + static_cast<std::size_t>(chorus.request.chorus)) % patterns.size()];
}

int velocity_of(char touch, int mix, double intensity) {
  const int plain = touch == ',' ? 38 : touch == 'o' ? 60 : touch == 'X' ? 102 : 82;
  const double clamped = intensity > 0 ? std::min(intensity, 1.0) : 0.0;
  const auto thousandths = 760 + std::lround(clamped * 440);
  const auto velocity = (plain * static_cast<long>(mix) * thousandths + 50'000) / 100'000;
  return static_cast<int>(std::clamp(velocity, 1L, 127L));
}

} // namespace landfall::band
