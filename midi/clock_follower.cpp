#include "midi/clock_follower.hpp"

#include <algorithm>
#include <cmath>

namespace landfall::midi {
namespace {

constexpr std::size_t run = 8;          ///< Clocks that are looked at together.
constexpr double even_share = 0.25;     ///< Of an interval: clocks so near a line are even.
constexpr double shortest = 0.005;      ///< Seconds: a period at some 500 beats a minute.
constexpr double doubtful = 0.65;       ///< Of a period: a clock so near is the next one.
constexpr double alike_share = 0.35;    ///< Of an interval: one so near belongs to an even run.
constexpr std::size_t recent = 8;       ///< Clocks that are asked whether they leave the line.
constexpr double long_pause = 30;       ///< Seconds.
constexpr double few = 6;               ///< Clocks.
constexpr double least_leaning = 0.001; ///< Seconds.
constexpr double sure = 5;              ///< Standard errors.

double seconds_between(TimePoint a, TimePoint b) {
  return std::chrono::duration<double>(b - a).count();
}

int position_of(const ShortMessage& m) {
  return (m.bytes[1] & 0x7F) | (m.bytes[2] & 0x7F) << 7;
}

} // namespace

bool ClockFollower::hear(const ShortMessage& message, TimePoint time) noexcept {
  switch (message.size == 0 ? 0 : message.bytes[0]) {
  case clock_byte:
    clock(time);
    break;
  case start_byte:
    waits_ = true;
    origin_tick_ = {};
    return false; // nothing is said before its clock
  case continue_byte:
    waits_ = true;
    origin_tick_ = position_;
    return false;
  case stop_byte:
    waits_ = false;
    if (reading_.running)
      position_ = origin_tick_ + clock_step * (index_ + 1 - origin_);
    reading_.running = false;
    break;
  case song_position_byte:
    if (message.size != 3)
      return false;
    position_ = song_position_step * position_of(message);
    if (!reading_.running)
      return false;
    waits_ = true; // a sender that goes round a loop says so in passing
    origin_tick_ = position_;
    return false;
  default:
    return false;
  }
  publish();
  return true;
}

void ClockFollower::clock(TimePoint time) noexcept {
  if (count_ == 0)
    base_ = time;
  const double seconds = seconds_between(base_, time);
  if (count_ == 0 || is_fresh_start(seconds)) {
    arrived_ = 0;
    ++index_;
    begin(seconds);
  } else if (count_ < least) {
    ++index_;
    add(seconds);
  } else if (count(seconds))
    add(seconds);
  arrive(seconds);
  last_ = seconds;
  place();
}

/// After a pause a start is another tempo, perhaps; and what was long ago says nothing.
bool ClockFollower::is_fresh_start(double seconds) const noexcept {
  const double pause = seconds - last_;
  return pause > long_pause || (waits_ && count_ >= least && pause > few * line_.period);
}

void ClockFollower::begin(double seconds) noexcept {
  count_ = 0;
  reading_.locked = false;
  add(seconds);
}

void ClockFollower::arrive(double seconds) noexcept {
  std::move_backward(arrivals_.begin(), arrivals_.end() - 1, arrivals_.end());
  arrivals_[0] = {index_, seconds};
  arrived_ = std::min(arrived_ + 1, arrivals_.size());
  if (arrived_ >= run && arrivals_[0].index - arrivals_[run - 1].index != run - 1 && is_even())
    count_again();
}

/// Whether the last few clocks came at one distance: if some were taken for lost or double ones, it
/// is another tempo.
bool ClockFollower::is_even() const noexcept {
  const double mean = mean_interval();
  if (mean < shortest)
    return false; // held up, and now delivered together
  double middle = 0;
  for (std::size_t i = 0; i < run; ++i)
    middle += (arrivals_[i].seconds + mean * static_cast<double>(i)) / run;
  for (std::size_t i = 0; i < run; ++i)
    if (std::abs(arrivals_[i].seconds + mean * static_cast<double>(i) - middle) > even_share * mean)
      return false;
  return true;
}

/// Of the last few clocks, by least squares.
double ClockFollower::mean_interval() const noexcept {
  double both = 0, square = 0;
  for (std::size_t i = 0; i < run; ++i) {
    const double dx = static_cast<double>(i) - (run - 1) / 2.0;
    both -= dx * (arrivals_[i].seconds - last_);
    square += dx * dx;
  }
  return both / square;
}

/// One by one, from where the even clocks began.
void ClockFollower::count_again() noexcept {
  const double mean = mean_interval();
  std::size_t first = run - 1;
  while (first + 1 < arrived_ && std::abs(arrivals_[first].seconds - arrivals_[first + 1].seconds -
                                          mean) < alike_share * mean)
    ++first;
  const bool was_locked = reading_.locked;
  index_ = arrivals_[first].index;
  begin(arrivals_[first].seconds);
  while (first-- > 0) {
    arrivals_[first].index = ++index_;
    add(arrivals_[first].seconds);
  }
  reading_.locked = was_locked;
}

/// How many clocks on this one is, by its time; false for one that is there already.
bool ClockFollower::count(double seconds) noexcept {
  const double steps = (seconds - near_) / line_.period;
  if (steps < 1 - doubtful)
    return false;
  index_ += steps < 1 + doubtful ? 1 : std::llround(steps);
  return true;
}

void ClockFollower::add(double seconds) noexcept {
  const auto before = count_ > 0 ? heard(0).index : index_;
  heard_[next_] = {index_, seconds};
  next_ = (next_ + 1) % window;
  count_ = std::min(count_ + 1, window);
  const double expected = near_ + line_.period * static_cast<double>(index_ - before);
  near_ = count_ > least ? (expected + seconds) / 2 : seconds;
  if (count_ < least)
    return;
  fit();
  if (count_ > kept && leaves_line()) {
    count_ = kept;
    fit();
  }
  reading_.locked = reading_.locked || count_ >= lock;
}

/// Least squares.
void ClockFollower::fit() noexcept {
  const auto n = static_cast<double>(count_);
  double mean_index = 0, mean_seconds = 0;
  for (std::size_t i = 0; i < count_; ++i) {
    mean_index += static_cast<double>(heard(i).index - index_) / n;
    mean_seconds += (heard(i).seconds - last_) / n;
  }
  double both = 0, square = 0;
  for (std::size_t i = 0; i < count_; ++i) {
    const double dx = static_cast<double>(heard(i).index - index_) - mean_index;
    both += dx * (heard(i).seconds - last_ - mean_seconds);
    square += dx * dx;
  }
  line_ = {mean_seconds + last_, mean_index + static_cast<double>(index_), both / square};
}

/// Standard deviation of the clocks' jitter, by their second differences: a change of tempo is
/// none.
double ClockFollower::jitter() const noexcept {
  double squares = 0;
  int triples = 0;
  for (std::size_t i = 2; i < count_; ++i) {
    if (heard(i - 2).index - heard(i).index != 2)
      continue;
    squares += std::pow(heard(i).seconds - 2 * heard(i - 1).seconds + heard(i - 2).seconds, 2);
    ++triples;
  }
  return triples == 0 ? 0 : std::sqrt(squares / (6.0 * triples));
}

/// Whether the newest clocks lie further from the line than their jitter explains.
bool ClockFollower::leaves_line() const noexcept {
  double mean = 0;
  for (std::size_t i = 0; i < recent; ++i)
    mean += (heard(i).seconds - line_.at(heard(i).index)) / recent;
  const double chance = sure * jitter() / std::sqrt(static_cast<double>(recent));
  return std::abs(mean) > std::max(chance, least_leaning);
}

/// The clock after a start lies where the song is to go on.
void ClockFollower::place() noexcept {
  if (!waits_)
    return;
  waits_ = false;
  origin_ = index_;
  reading_.running = true;
  ++reading_.starts;
}

void ClockFollower::publish() noexcept {
  reading_.clocks = count_ > 0;
  Transport& line = reading_.line;
  line.rolling = reading_.running;
  line.anchor_tick = origin_tick_ + clock_step * (index_ - origin_);
  const bool known = count_ >= least;
  const double seconds = known ? line_.at(index_) : last_;
  line.anchor_time =
      base_ + std::chrono::duration_cast<Nanoseconds>(std::chrono::duration<double>(seconds));
  if (known)
    line.tempo = tempo_from_bpm(60.0 / (line_.period * 24));
  reading_.tempo_known = reading_.tempo_known || known;
}

} // namespace landfall::midi
