#include "song/pulse.hpp"

#include <algorithm>

namespace landfall::song {
namespace {

std::vector<Pulse> even(int count, Ticks length, bool ternary) {
  std::vector<Pulse> result;
  for (int i = 0; i < count; ++i)
    result.push_back({length * i, length, ternary});
  return result;
}

/// 5/8, 7/8, 11/16: twos, and a three at the end.
std::vector<Pulse> uneven(Meter meter) {
  const Ticks unit = unit_length(meter);
  std::vector<Pulse> result;
  for (int at = 0; at < meter.beats;) {
    const int left = meter.beats - at;
    const int size = left == 3 ? 3 : std::min(left, 2);
    result.push_back({unit * at, unit * size, size == 3});
    at += size;
  }
  return result;
}

Ticks swung(Ticks pair, int numerator, int denominator, int share) {
  const std::int64_t first = (pair.count * share + 500) / 1000;
  if (2 * numerator <= denominator)
    return {first * 2 * numerator / denominator};
  return {first + (pair.count - first) * (2 * numerator - denominator) / denominator};
}

} // namespace

std::vector<Pulse> pulses(Meter meter) {
  const Ticks unit = unit_length(meter);
  if (meter.unit == 2)
    return even(meter.beats * 2, quarter, false);
  if (meter.unit == 4)
    return even(meter.beats, unit, false);
  if (compound(meter) || meter.beats == 3)
    return even(meter.beats / 3, unit * 3, true);
  return uneven(meter);
}

Ticks cell_offset(const Pulse& pulse, int cell, int cells, const Swing& swing, bool compound_feel) {
  const bool binary = !compound_feel && cells % 3 != 0;
  if (binary && pulse.ternary) {
    const std::int64_t two_thirds = pulse.length.count * 2 / 3;
    if (2 * cell <= cells)
      return {two_thirds * 2 * cell / cells};
    return {two_thirds + (pulse.length.count - two_thirds) * (2 * cell - cells) / cells};
  }
  if (!binary)
    return {pulse.length.count * cell / cells};
  const int pairs = swing.sixteenths ? 2 : 1;
  const Ticks pair = pulse.length / pairs;
  const int index = cell * pairs / cells;
  return pair * index + swung(pair, cell * pairs - index * cells, cells, swing.share);
}

} // namespace landfall::song
