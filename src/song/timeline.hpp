#pragma once

#include "song/form.hpp"

#include <string_view>

namespace landfall::song {

/// Tempo after tempo over musical time, and the exact way to clock time and back. Time 0 is tick 0;
/// the first tempo reaches back before it. Sums are kept in 24ths of a nanosecond, so that nothing
/// adds up however many changes there are; tick -> time -> tick is the identity. Exact for ticks
/// within 10^10 of 0 and times within a year.
class TempoMap {
public:
  explicit TempoMap(Tempo first) : spans_{{Ticks{0}, 0, first}} {}

  /// `tempo` from `at` on. `at` is not before the last change, nor below 0.
  void change(Ticks at, Tempo tempo);

  Nanoseconds time_at(Ticks tick) const; ///< To the nearest nanosecond.
  Ticks tick_at(Nanoseconds time) const; ///< The nearest tick.
  Tempo tempo_at(Ticks tick) const;

  struct Change {
    Ticks at;
    Tempo tempo;

    bool operator==(const Change&) const = default;
  };
  /// Every tempo with the tick from which it holds, the first at 0.
  std::vector<Change> changes() const;

private:
  struct Span {
    Ticks start;
    std::int64_t start_time; ///< In 24ths of a nanosecond.
    Tempo tempo;
  };
  const Span& span_at(Ticks tick) const;

  std::vector<Span> spans_;
};

/// The tempos of `choruses` choruses played one after the other as written, in ticks from the top
/// of the first.
TempoMap tempo_map(const Form& form, int choruses);

/// A place as players name it: the bar and the beat, both from 1, the beat with decimals.
struct Place {
  int bar = 1;
  std::int64_t millionths = 0; ///< Of a beat, after the bar's first.

  bool operator==(const Place&) const = default;
};

/// `3:2.5`: bar 3, the half of beat 2. `3` alone is its first beat.
Result<Place> parse_place(std::string_view text);

/// `3:2.5`, with no more decimals than it takes.
std::string ascii(Place place);

/// The beat of a place, from 1.
double beat_number(Place place);

/// The tick from the top of the chorus; an error if the form has no such bar or the bar no such
/// beat. In compound metre the beat is the dotted quarter.
Result<Ticks> tick_of(const Form& form, Place place);

/// The place of a tick in [0, form.length); tick_of gives the same tick back.
Place place_at(const Form& form, Ticks tick);

} // namespace landfall::song
