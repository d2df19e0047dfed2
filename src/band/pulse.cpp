#include "band/pulse.hpp"

#include <algorithm>

namespace landfall::band {
namespace {

std::vector<Pulse> even(int count, Ticks length, bool ternary) {
  std::vector<Pulse> result;
  for (int i = 0; i < count; ++i)
    result.push_back({length * i, length, ternary});
  return result;
}

/// 5/8, 7/8, 11/16: twos, and a three at the end.
std::vector<Pulse> uneven(song::Meter meter) {
  const Ticks unit = song::unit_length(meter);
  std::vector<Pulse> result;
  for (int at = 0; at < meter.beats;) {
    const int left = meter.beats - at;
    const int size = left == 3 ? 3 : std::min(left, 2);
    result.push_back({unit * at, unit * size, size == 3});
    at += size;
  }
  return result;
}

/// Where a second group of beats starts in the pattern: the third of four, the fourth of five.
int second_strong(int written) {
  if (written < 4)
    return 0;
  return written % 2 == 0 ? written / 2 : written / 2 + 1;
}

Ticks swung(Ticks pair, int numerator, int denominator, int share) {
  const std::int64_t first = (pair.count * share + 500) / 1000;
  if (2 * numerator <= denominator)
    return {first * 2 * numerator / denominator};
  return {first + (pair.count - first) * (2 * numerator - denominator) / denominator};
}

} // namespace

std::vector<Pulse> pulses(song::Meter meter) {
  const Ticks unit = song::unit_length(meter);
  if (meter.unit == 2)
    return even(meter.beats * 2, quarter, false);
  if (meter.unit == 4)
    return even(meter.beats, unit, false);
  if (song::compound(meter) || meter.beats == 3)
    return even(meter.beats / 3, unit * 3, true);
  return uneven(meter);
}

std::vector<int> beats_for(int written, int wanted) {
  std::vector<int> result;
  if (wanted % written == 0) {
    for (int i = 0; i < wanted; ++i)
      result.push_back(i % written);
    return result;
  }
  const int last = written - 1;
  const int off = std::min(1, last);
  for (int at = 0; at < wanted;) {
    const int left = wanted - at;
    const int size = left == 5 || left == 3 ? 3 : std::min(left, 2);
    result.push_back(at == 0 ? 0 : second_strong(written));
    for (int i = 1; i < size; ++i)
      result.push_back(off);
    at += size;
  }
  if (wanted > 1)
    result.back() = last;
  return result;
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

} // namespace landfall::band
