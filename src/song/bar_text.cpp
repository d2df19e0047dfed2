#include "song/bar_text.hpp"

#include <algorithm>
#include <array>

namespace landfall::song {

namespace {

std::string text_of(const WrittenChord& written) {
  return written.chord ? theory::ascii(*written.chord) : "N.C.";
}

bool all_on(const ChartBar& bar, Ticks grid) {
  return std::ranges::all_of(
      bar.chords, [&](const WrittenChord& chord) { return chord.at.count % grid.count == 0; });
}

/// The fewest parts of a beat that hold all chords in it.
int parts_for(const ChartBar& bar, Ticks start, Ticks length) {
  for (const int parts : {1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 16})
    if (length.count % parts == 0 &&
        std::ranges::all_of(bar.chords, [&](const WrittenChord& chord) {
          const bool inside = chord.at >= start && chord.at < start + length;
          return !inside || (chord.at - start).count % (length.count / parts) == 0;
        }))
      return parts;
  return 12;
}

std::string beat_text(const ChartBar& bar, Ticks start, Ticks length) {
  const int parts = parts_for(bar, start, length);
  const Ticks step = length / parts;
  std::vector<std::string> entries(static_cast<std::size_t>(parts), "/");
  for (const WrittenChord& chord : bar.chords)
    if (chord.at >= start && chord.at < start + length) {
      const auto nearest =
          static_cast<std::size_t>((chord.at - start + step / 2).count / step.count);
      entries[std::min(nearest, entries.size() - 1)] = text_of(chord);
    }
  std::string text;
  for (const std::string& entry : entries)
    text += (text.empty() ? "" : " ") + entry;
  return parts == 1 ? text : "(" + text + ")";
}

std::string spread_text(const ChartBar& bar, Ticks step) {
  std::string text;
  for (Ticks at{0}; at < bar_length(bar.context.meter); at += step)
    text += (at == Ticks{0} ? "" : " ") + beat_text(bar, at, step);
  return text;
}

std::string chords_text(const ChartBar& bar) {
  const Meter meter = bar.context.meter;
  if (bar.chords.empty())
    return "/";
  if (bar.chords.size() == 1 && bar.chords.front().at == Ticks{0})
    return text_of(bar.chords.front());
  const bool in_units =
      compound(meter) && !all_on(bar, beat_length(meter)) && all_on(bar, unit_length(meter));
  return spread_text(bar, in_units ? unit_length(meter) : beat_length(meter));
}

} // namespace

std::string bar_text(const ChartBar& bar) {
  return chords_text(bar) + (bar.space ? " space" : "");
}

} // namespace landfall::song
