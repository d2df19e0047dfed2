#include "band/harmony.hpp"

#include <algorithm>

namespace landfall::band {
namespace {

bool same(const theory::Chord* a, const theory::Chord* b) {
  return a == b || (a != nullptr && b != nullptr && *a == *b);
}

const theory::Chord* pointer(const std::optional<theory::Chord>& chord) {
  return chord ? &*chord : nullptr;
}

} // namespace

Harmony::Harmony(const song::Form& form, const song::Form* next) {
  for (const auto& bar : form.bars)
    for (const auto& entry : bar.chords) {
      const auto* chord = pointer(entry.chord);
      const Ticks from = bar.start + entry.at;
      if (!segments_.empty() && same(segments_.back().chord, chord))
        continue;
      if (!segments_.empty())
        segments_.back().to = from;
      segments_.push_back({from, form.length, chord, bar.key});
    }
  opening_ = segments_.back();
  if (next != nullptr && !next->bars.empty() && !next->bars.front().chords.empty()) {
    followed_ = true;
    const auto& bar = next->bars.front();
    opening_ = {form.length, form.length + song::bar_length(bar.meter),
                pointer(bar.chords.front().chord), bar.key};
  }
}

const Segment& Harmony::at(Ticks tick) const {
  if (tick >= segments_.back().to)
    return opening_;
  const auto after =
      std::upper_bound(segments_.begin(), segments_.end(), tick,
                       [](Ticks wanted, const Segment& segment) { return wanted < segment.from; });
  return after == segments_.begin() ? segments_.front() : *(after - 1);
}

const Segment* Harmony::after(const Segment& segment) const {
  if (&segment >= segments_.data() && &segment + 1 < segments_.data() + segments_.size())
    return &segment + 1;
  return followed_ && &segment != &opening_ ? &opening_ : nullptr;
}

void Harmony::end_with(const theory::Chord& chord, Ticks from) {
  auto last = segments_.back();
  while (!segments_.empty() && segments_.back().from >= from)
    segments_.pop_back();
  if (!segments_.empty())
    segments_.back().to = from;
  last.from = from;
  last.chord = &chord;
  segments_.push_back(last);
  followed_ = false;
  opening_ = last;
}

theory::Chord home_chord(const song::Form& form) {
  for (const auto& bar : form.bars)
    for (const auto& entry : bar.chords)
      if (entry.chord && !entry.chord->bass && entry.chord->root == form.key.tonic &&
          theory::is_minor(*entry.chord) == form.key.minor)
        return *entry.chord;
  return theory::tonic_chord(form.key);
}

} // namespace landfall::band
