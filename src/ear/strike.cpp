#include "ear/strike.hpp"

#include "ear/sounding.hpp"

#include <algorithm>

namespace landfall::ear {
namespace {

constexpr double together_ms = 40.0;

} // namespace

bool is_ghost(const HeardNote& note, const Settings& settings, Tempo tempo) {
  return note.off && note.velocity < settings.ghost_velocity &&
         *note.off - note.on < ticks_of_ms(settings.shortest_ms, tempo);
}

Line::Line(const Ground& ground, std::span<const HeardNote> notes, const Settings& settings)
    : notes_(notes) {
  order_.reserve(notes.size());
  strikes_.reserve(notes.size());
  for (std::size_t index = 0; index < notes.size(); ++index) {
    const auto& note = notes[index];
    const auto tempo = ground.tempo.tempo_at(note.on);
    if ((settings.split && note.midi < *settings.split) || is_ghost(note, settings, tempo))
      continue;
    if (strikes_.empty() || note.on - strikes_.back().at > ticks_of_ms(together_ms, tempo))
      strikes_.push_back({note.on, order_.size(), 0});
    order_.push_back(index);
    ++strikes_.back().count;
  }
}

std::size_t Line::from(Ticks tick) const {
  const auto found = std::ranges::lower_bound(strikes_, tick, {}, &Strike::at);
  return static_cast<std::size_t>(found - strikes_.begin());
}

} // namespace landfall::ear
