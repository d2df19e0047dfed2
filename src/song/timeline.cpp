#include "song/timeline.hpp"

#include <algorithm>
#include <cassert>
#include <charconv>

namespace landfall::song {

namespace {

constexpr std::int64_t million = 1'000'000;

/// Rounded to nearest, halves away from 0. `divisor` is above 0.
constexpr std::int64_t divided(std::int64_t value, std::int64_t divisor) {
  return (value + (value < 0 ? -(divisor / 2) : divisor / 2)) / divisor;
}

/// A tick's length in 24ths of a nanosecond: 1000 ns a microsecond / 960 ticks a quarter = 25/24.
constexpr std::int64_t fine_tick(Tempo tempo) {
  return tempo.micros_per_quarter * 25;
}

} // namespace

void TempoMap::change(Ticks at, Tempo tempo) {
  Span& last = spans_.back();
  assert(at >= last.start);
  if (at == last.start)
    last.tempo = tempo;
  else if (tempo != last.tempo)
    spans_.push_back(
        {at, last.start_time + (at - last.start).count * fine_tick(last.tempo), tempo});
}

const TempoMap::Span& TempoMap::span_at(Ticks tick) const {
  const auto after = std::ranges::upper_bound(spans_, tick, {}, &Span::start);
  return after == spans_.begin() ? *after : *std::prev(after);
}

Nanoseconds TempoMap::time_at(Ticks tick) const {
  const Span& span = span_at(tick);
  return Nanoseconds{
      divided(span.start_time + (tick - span.start).count * fine_tick(span.tempo), 24)};
}

Ticks TempoMap::tick_at(Nanoseconds time) const {
  const std::int64_t fine = time.count() * 24;
  const auto after = std::ranges::upper_bound(spans_, fine, {}, &Span::start_time);
  const Span& span = after == spans_.begin() ? *after : *std::prev(after);
  return span.start + Ticks{divided(fine - span.start_time, fine_tick(span.tempo))};
}

Tempo TempoMap::tempo_at(Ticks tick) const {
  return span_at(tick).tempo;
}

std::vector<TempoMap::Change> TempoMap::changes() const {
  std::vector<Change> result;
  for (const Span& span : spans_)
    result.push_back({span.start, span.tempo});
  return result;
}

TempoMap tempo_map(const Form& form, int choruses) {
  TempoMap map(form.tempo);
  for (int chorus = 0; chorus < choruses; ++chorus)
    for (const Bar& bar : form.bars)
      if (bar.tempo)
        map.change(form.length * chorus + bar.start, *bar.tempo);
  return map;
}

Result<Place> parse_place(std::string_view text) {
  const TextError error{"expected a bar and a beat, both from 1, as in 3:2 or 3:2.5"};
  const char* const end = text.data() + text.size();
  Place place;
  const auto bar = std::from_chars(text.data(), end, place.bar);
  if (bar.ec != std::errc{} || place.bar < 1 || place.bar > million)
    return error;
  if (bar.ptr == end)
    return place;
  int beat = 0;
  const auto whole = std::from_chars(bar.ptr + 1, end, beat);
  if (*bar.ptr != ':' || whole.ec != std::errc{} || beat < 1 || beat > 1000)
    return error;
  place.millionths = (beat - 1) * million;
  if (whole.ptr == end)
    return place;
  if (*whole.ptr != '.' || whole.ptr + 1 == end)
    return error;
  std::int64_t worth = million / 10;
  for (const char* digit = whole.ptr + 1; digit != end; ++digit, worth /= 10) {
    if (*digit < '0' || *digit > '9')
      return error;
    place.millionths += worth * (*digit - '0');
  }
  return place;
}

std::string ascii(Place place) {
  std::string text =
      std::to_string(place.bar) + ":" + std::to_string(place.millionths / million + 1);
  if (const auto fraction = place.millionths % million; fraction != 0) {
    const std::string digits = std::to_string(million + fraction).substr(1);
    text += "." + digits.substr(0, digits.find_last_not_of('0') + 1);
  }
  return text;
}

double beat_number(Place place) {
  return 1.0 + static_cast<double>(place.millionths) / static_cast<double>(million);
}

Result<Ticks> tick_of(const Form& form, Place place) {
  if (place.bar < 1 || static_cast<std::size_t>(place.bar) > form.bars.size())
    return TextError{"there is no bar " + std::to_string(place.bar) + ": the form has " +
                     std::to_string(form.bars.size())};
  const Bar& bar = form.bars[static_cast<std::size_t>(place.bar) - 1];
  const Ticks into{divided(place.millionths * beat_length(bar.meter).count, million)};
  if (into < Ticks{0} || into >= bar_length(bar.meter))
    return TextError{"there is no beat " + ascii(place).substr(ascii(place).find(':') + 1) +
                     " in bar " + std::to_string(place.bar) + ": it has " +
                     std::to_string(beats_in_bar(bar.meter))};
  return bar.start + into;
}

Place place_at(const Form& form, Ticks tick) {
  const Bar& bar = bar_at(form, tick);
  return {bar.number, divided((tick - bar.start).count * million, beat_length(bar.meter).count)};
}

} // namespace landfall::song
