#include "ear/match.hpp"

#include "ear/match_align.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <set>

namespace landfall::ear {
namespace {

constexpr double common_ms = 20.0;    ///< A delay below it is no delay.
constexpr double apart_ms = 25.0;     ///< Notes this near a delay have it in common.
constexpr double shift_price = 0.25;  ///< What an answer that is shifted as a whole must gain.
constexpr double octave_price = 0.2;  ///< The same for each octave.
constexpr double most_slower = 0.1;   ///< Of the call's length, either way.
constexpr double least_slower = 0.01; ///< Below it, it is the same tempo.

double in_ms(double ticks, Tempo tempo) {
  return ticks / static_cast<double>(ticks_per_quarter) *
         static_cast<double>(tempo.micros_per_quarter) / 1000.0;
}

double median(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

/// Makes a match of one call and answer; what it needs everywhere.
class Matcher {
public:
  Matcher(std::span<const AskedNote> asked, std::span<const HeardNote> heard,
          const MatchSettings& settings)
      : asked_(asked), heard_(heard), settings_(settings),
        candidates_(candidates_of(heard, has_chords(), settings)) {
    line_.origin = asked.empty() ? 0.0 : static_cast<double>(asked.front().at.count);
  }

  Match run() {
    choose_line();
    return report();
  }

private:
  bool has_chords() const {
    return std::adjacent_find(asked_.begin(), asked_.end(), [](const auto& a, const auto& b) {
             return a.at == b.at;
           }) != asked_.end();
  }

  struct Point {
    double call, answer; ///< Ticks.
  };

  /// The pairs of right pitch.
  std::vector<Point> points(const Alignment& alignment, const AnswerLine& line) const {
    std::vector<Point> result;
    for (std::size_t i = 0; i < asked_.size(); ++i) {
      if (!alignment.candidate[i])
        continue;
      const auto& candidate = candidates_[*alignment.candidate[i]];
      const auto off = distance(asked_[i], candidate, line.octaves, settings_);
      if (!settings_.pitches || std::abs(off.cents) <= settings_.near_cents)
        result.push_back({static_cast<double>(asked_[i].at.count), candidate.at});
    }
    return result;
  }

  /// The delay that most pairs of the same pitch have.
  double common_delay(int octaves) const {
    const double bin = 1.0 * static_cast<double>(sixteenth.count) / 4.0;
    std::map<long, int> bins;
    for (const auto& note : asked_)
      for (const auto& candidate : candidates_) {
        const double later = candidate.at - static_cast<double>(note.at.count);
        const auto off = distance(note, candidate, octaves, settings_);
        if (std::abs(later) <= static_cast<double>(settings_.furthest.count) &&
            (!settings_.pitches || std::abs(off.cents) <= settings_.near_cents))
          ++bins[std::lround(later / bin)];
      }
    if (bins.empty())
      return 0.0;
    const auto most = std::max_element(bins.begin(), bins.end(), [](const auto& a, const auto& b) {
      return std::pair(a.second, -std::abs(a.first)) < std::pair(b.second, -std::abs(b.first));
    });
    return static_cast<double>(most->first) * bin;
  }

  /// What its right notes have in common; no delay where there is no majority for one.
  AnswerLine fitted(const Alignment& alignment, const AnswerLine& line) const {
    AnswerLine result = line;
    const auto right = points(alignment, line);
    result.delay = 0.0;
    result.slower = slope(right);
    if (right.empty())
      return result;
    std::vector<double> later;
    for (const auto& point : right)
      later.push_back(point.answer - result.origin - (point.call - result.origin) * result.slower);
    const double middle = median(later);
    const auto agree = std::count_if(later.begin(), later.end(), [&](double each) {
      return std::abs(in_ms(each - middle, settings_.tempo)) <= apart_ms;
    });
    if (right.size() > 2 && 2 * agree > static_cast<std::ptrdiff_t>(right.size()) &&
        std::abs(in_ms(middle, settings_.tempo)) > common_ms)
      result.delay = middle;
    return result;
  }

  /// The median of the slopes between right notes, if it tells more than 1.
  double slope(const std::vector<Point>& right) const {
    std::vector<double> slopes;
    for (std::size_t i = 0; i < right.size(); ++i)
      for (std::size_t j = i + 1; j < right.size(); ++j)
        if (const double apart = right[j].call - right[i].call;
            apart >= static_cast<double>(quarter.count))
          slopes.push_back((right[j].answer - right[i].answer) / apart);
    if (right.size() < 5 || slopes.empty())
      return 1.0;
    const double middle = median(slopes);
    if (std::abs(middle - 1.0) < least_slower || std::abs(middle - 1.0) > most_slower)
      return 1.0;
    return 2.0 * spread(right, middle) < spread(right, 1.0) ? middle : 1.0;
  }

  /// How far notes are from their line at most times, in ticks.
  static double spread(const std::vector<Point>& right, double slower) {
    std::vector<double> later;
    for (const auto& point : right)
      later.push_back(point.answer - slower * point.call);
    const double middle = median(later);
    for (double& each : later)
      each = std::abs(each - middle);
    return median(later);
  }

  double price(const AnswerLine& line) const {
    return (line.delay != 0.0 || line.slower != 1.0 ? shift_price : 0.0) +
           octave_price * std::abs(line.octaves);
  }

  void offer(AnswerLine line) {
    auto alignment = align(asked_, candidates_, line, settings_);
    for (int round = 0; round < 2; ++round) {
      take(line, alignment);
      const auto next = fitted(alignment, line);
      if (next.delay == line.delay && next.slower == line.slower)
        return;
      line = next;
      alignment = align(asked_, candidates_, line, settings_);
    }
    take(line, alignment);
  }

  void take(const AnswerLine& line, const Alignment& alignment) {
    if (const double cost = alignment.cost + price(line); cost < best_cost_) {
      best_cost_ = cost;
      line_ = line;
      alignment_ = alignment;
    }
  }

  void choose_line() {
    std::vector<int> octaves{0};
    if (settings_.octaves == Octaves::whole && settings_.pitches)
      octaves = {0, -1, 1, -2, 2};
    for (const int octave : octaves) {
      AnswerLine line = line_;
      line = {0.0, 1.0, line.origin, octave};
      offer(line);
      line.delay = common_delay(octave);
      if (line.delay != 0.0)
        offer(line);
    }
    line_ = fitted(alignment_, line_); // the words say what the notes have in common
  }

  MatchedNote note(std::size_t i) const {
    MatchedNote result;
    const auto& chosen = alignment_.candidate[i];
    if (!chosen) {
      const double last = line_.place(asked_[i].at + settings_.furthest);
      const bool open = settings_.until && static_cast<double>(settings_.until->count) < last;
      result.fate = open ? Fate::waiting : Fate::missing;
      return result;
    }
    const auto& candidate = candidates_[*chosen];
    const auto off = distance(asked_[i], candidate, line_.octaves, settings_);
    result.heard = candidate.note;
    result.at = {std::llround(candidate.at)};
    result.behind_ms = in_ms(candidate.at - line_.place(asked_[i].at), settings_.tempo);
    result.octaves = off.octaves;
    const bool near = std::abs(off.cents) <= settings_.near_cents;
    result.bent = near && off.bent;
    result.cents_off = settings_.pitches ? off.cents : 0.0;
    result.fate = near || !settings_.pitches ? Fate::matched : Fate::wrong;
    return result;
  }

  Match report() const {
    Match result;
    result.close_ms = settings_.close_ms;
    result.delay_ms = in_ms(line_.delay, settings_.tempo);
    result.slower = line_.slower;
    std::set<std::size_t> used;
    for (std::size_t i = 0; i < asked_.size(); ++i) {
      result.notes.push_back(note(i));
      if (result.notes.back().heard)
        used.insert(*result.notes.back().heard);
    }
    for (const auto& candidate : candidates_)
      if (candidate.onset && candidate.skip_cost > 0.1 && !used.contains(candidate.note))
        result.extras.push_back(candidate.note);
    std::sort(result.extras.begin(), result.extras.end());
    return result;
  }

  std::span<const AskedNote> asked_;
  std::span<const HeardNote> heard_;
  const MatchSettings& settings_;
  std::vector<Candidate> candidates_;
  AnswerLine line_;
  Alignment alignment_;
  double best_cost_ = std::numeric_limits<double>::infinity();
};

} // namespace

int Match::count(Fate fate) const {
  return static_cast<int>(
      std::count_if(notes.begin(), notes.end(), [&](const auto& n) { return n.fate == fate; }));
}

int Match::behind() const {
  return static_cast<int>(std::count_if(notes.begin(), notes.end(), [&](const auto& n) {
    return n.fate == Fate::matched && n.behind_ms > close_ms;
  }));
}

int Match::ahead() const {
  return static_cast<int>(std::count_if(notes.begin(), notes.end(), [&](const auto& n) {
    return n.fate == Fate::matched && n.behind_ms < -close_ms;
  }));
}

Match match(std::span<const AskedNote> asked, std::span<const HeardNote> heard,
            const MatchSettings& settings) {
  return Matcher(asked, heard, settings).run();
}

} // namespace landfall::ear
