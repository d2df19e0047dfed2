#include "song/performance.hpp"

#include <algorithm>

namespace landfall::song {

void Performance::append(int chorus, std::shared_ptr<const Form> form, Ticks from, Ticks to) {
  if (from >= to)
    return;
  stretches_.push_back({end_, chorus, std::move(form), from, to});
  end_ = stretches_.back().end();
}

void Performance::cut(Ticks tick) {
  while (!stretches_.empty() && stretches_.back().start >= tick) {
    end_ = stretches_.back().start;
    stretches_.pop_back();
  }
  if (stretches_.empty() || end_ <= tick)
    return;
  auto& last = stretches_.back();
  last.to = last.from + (tick - last.start);
  end_ = tick;
}

void Performance::forget_before(Ticks tick) {
  const auto first = std::find_if(stretches_.begin(), stretches_.end(),
                                  [&](const Stretch& stretch) { return stretch.end() > tick; });
  stretches_.erase(stretches_.begin(), first);
}

std::optional<Moment> Performance::at(Ticks tick) const {
  const auto after =
      std::upper_bound(stretches_.begin(), stretches_.end(), tick,
                       [](Ticks at, const Stretch& stretch) { return at < stretch.start; });
  if (after == stretches_.begin() || tick >= std::prev(after)->end())
    return std::nullopt;
  const auto& stretch = *std::prev(after);
  const auto form_tick = stretch.from + (tick - stretch.start);
  const auto& bar = bar_at(*stretch.form, form_tick);
  return Moment{&stretch, form_tick, &bar, form_tick - bar.start};
}

Ticks Performance::bar_line_from(Ticks tick) const {
  const auto moment = at(tick);
  if (!moment)
    return tick < Ticks{} ? Ticks{} : end_;
  if (moment->in_bar == Ticks{} || tick == moment->stretch->start)
    return tick;
  return std::min(moment->bar_start() + bar_length(moment->bar->meter), moment->stretch->end());
}

Ticks Performance::beat_from(Ticks tick) const {
  const auto moment = at(tick);
  if (!moment)
    return tick < Ticks{} ? Ticks{} : end_;
  const auto into_beat = floor_mod(moment->in_bar, beat_length(moment->bar->meter));
  if (into_beat == Ticks{})
    return tick;
  return std::min({tick - into_beat + beat_length(moment->bar->meter), bar_line_from(tick),
                   moment->stretch->end()});
}

} // namespace landfall::song
