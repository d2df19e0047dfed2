#include "song/form.hpp"

#include <algorithm>
#include <cassert>

namespace landfall::song {

const Bar& bar_at(const Form& form, Ticks tick) {
  assert(!form.bars.empty() && tick >= Ticks{0} && tick < form.length);
  const auto after = std::ranges::upper_bound(form.bars, tick, {}, &Bar::start);
  return *std::prev(after);
}

const ChordAt& chord_at(const Form& form, Ticks tick) {
  const Bar& bar = bar_at(form, tick);
  const auto after = std::ranges::upper_bound(bar.chords, tick - bar.start, {}, &ChordAt::at);
  return *std::prev(after);
}

Ticks next_change(const Form& form, Ticks tick) {
  const Bar* bar = &bar_at(form, tick);
  for (; bar != form.bars.data() + form.bars.size(); ++bar)
    for (const ChordAt& chord : bar->chords)
      if (chord.fresh && bar->start + chord.at > tick)
        return bar->start + chord.at;
  return form.length;
}

} // namespace landfall::song
