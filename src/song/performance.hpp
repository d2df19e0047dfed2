#pragma once

#include "song/form.hpp"

#include <memory>
#include <optional>
#include <vector>

namespace landfall::song {

/// A run of bars of a form as it was, or will be, played.
struct Stretch {
  Ticks start;                      ///< In performance ticks.
  int chorus = 0;                   ///< From 0.
  std::shared_ptr<const Form> form; ///< Never null.
  Ticks from;                       ///< Form ticks, [from, to): what of the form is played.
  Ticks to;

  Ticks end() const { return start + (to - from); }
};

/// A moment of the performance, found in the form.
struct Moment {
  const Stretch* stretch = nullptr;
  Ticks form_tick; ///< In [stretch->from, stretch->to).
  const Bar* bar = nullptr;
  Ticks in_bar; ///< From the bar's start.

  /// The performance tick at which this bar begins, were it played whole.
  Ticks bar_start() const { return stretch->start + (bar->start - stretch->from); }
};

/// Which bars were, and will be, played when: the stretches follow each other without gap, from
/// tick 0 on. A value; cheap to copy.
class Performance {
public:
  /// Adds a stretch at end(). Nothing is added for an empty range.
  void append(int chorus, std::shared_ptr<const Form> form, Ticks from, Ticks to);

  /// Forgets all from `tick` on.
  void cut(Ticks tick);

  /// Forgets stretches that ended before `tick`, to keep hours of playing small.
  void forget_before(Ticks tick);

  /// Where the last stretch ends; 0 at first.
  Ticks end() const { return end_; }
  bool empty() const { return stretches_.empty(); }
  const std::vector<Stretch>& stretches() const { return stretches_; }

  /// None outside what is laid out, as in the count-in.
  std::optional<Moment> at(Ticks tick) const;

  /// The first bar line at or after `tick`; end() if there is none before it.
  Ticks bar_line_from(Ticks tick) const;

  /// The first beat at or after `tick`; end() if there is none before it.
  Ticks beat_from(Ticks tick) const;

private:
  std::vector<Stretch> stretches_;
  Ticks end_;
};

} // namespace landfall::song
