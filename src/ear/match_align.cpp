#include "ear/match_align.hpp"

#include "ear/sounding.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace landfall::ear {
namespace {

// Costs, in missing notes. A wrong note in its place must be cheaper than a missing and an extra
// one; a right note that is far off must be cheaper still.
constexpr double missing_cost = 1.0;
constexpr double extra_cost = 0.7;
constexpr double ghost_cost = 0.08;
constexpr double bent_cost = 0.3;  ///< Of a note that is only the beginning of a bend.
constexpr double time_cost = 0.8;  ///< Of a right note at the furthest distance.
constexpr double wrong_time = 2.0; ///< The same of a wrong one.
constexpr double together_ms = 40.0;

bool is_ghost(const HeardNote& note, const MatchSettings& settings) {
  return note.velocity < settings.ghost_velocity && note.off &&
         *note.off - note.on < ticks_of_ms(settings.ghost_ms, settings.tempo);
}

/// A pitch that a note came to stand on.
struct Stand {
  Ticks at;
  double midi = 60.0;
};

/// At its onset, and wherever a bend arrived.
std::vector<Stand> stands_of(const HeardNote& note, Tempo tempo) {
  auto last = pitch_at(note, note.on, tempo);
  std::vector<Stand> stands{{note.on, last.midi + last.cents / 100.0}};
  for (const auto& bend : note.bends) {
    if (bend.at <= note.on)
      continue;
    const auto pitch = pitch_at(note, bend.at, tempo);
    if (pitch.settled && (pitch.midi != last.midi || !last.settled))
      stands.push_back({bend.at, pitch.midi + pitch.cents / 100.0});
    last = pitch;
  }
  return stands;
}

void add_candidates(std::vector<Candidate>& all, const HeardNote& note, std::size_t index,
                    const MatchSettings& settings) {
  const auto stands = stands_of(note, settings.tempo);
  for (std::size_t i = 0; i < stands.size(); ++i) {
    Candidate candidate;
    candidate.at = static_cast<double>(stands[i].at.count);
    candidate.midi = stands[i].midi;
    candidate.note = index;
    candidate.onset = i == 0;
    candidate.skip_cost = i > 0                      ? 0.0
                          : is_ghost(note, settings) ? ghost_cost
                          : stands.size() > 1        ? bent_cost
                                                     : extra_cost;
    candidate.reached.push_back(candidate.midi);
    for (std::size_t later = 1; i == 0 && later < stands.size(); ++later)
      candidate.reached.push_back(stands[later].midi);
    all.push_back(std::move(candidate));
  }
}

/// Notes that begin together rise by pitch, as the call's do.
void order_chords(std::vector<Candidate>& all, double near) {
  for (auto first = all.begin(); first != all.end();) {
    const auto last = std::find_if(
        first, all.end(), [&](const Candidate& other) { return other.at - first->at > near; });
    std::stable_sort(first, last, [](const auto& a, const auto& b) { return a.midi < b.midi; });
    first = last;
  }
}

/// More for what is further off in pitch, but never so much that the note's place is lost.
double pitch_cost(double cents, double near) {
  const double off = std::abs(cents);
  return off <= near ? 0.0 : std::min(0.55 + off / 2000.0, 0.9);
}

double pair_cost(const AskedNote& asked, const Candidate& candidate, const AnswerLine& line,
                 const MatchSettings& settings) {
  const double away =
      std::abs(candidate.at - line.place(asked.at)) / static_cast<double>(settings.furthest.count);
  if (away > 1.0)
    return std::numeric_limits<double>::infinity();
  if (!settings.pitches)
    return candidate.onset ? time_cost * away : std::numeric_limits<double>::infinity();
  const auto off = distance(asked, candidate, line.octaves, settings);
  const double pitch = pitch_cost(off.cents, settings.near_cents);
  return pitch == 0.0 ? time_cost * away : pitch + wrong_time * away;
}

} // namespace

std::vector<Candidate> candidates_of(std::span<const HeardNote> heard, bool chords,
                                     const MatchSettings& settings) {
  std::vector<Candidate> all;
  for (std::size_t index = 0; index < heard.size(); ++index)
    add_candidates(all, heard[index], index, settings);
  std::stable_sort(all.begin(), all.end(),
                   [](const auto& a, const auto& b) { return a.at < b.at; });
  if (chords)
    order_chords(all, static_cast<double>(ticks_of_ms(together_ms, settings.tempo).count));
  return all;
}

Distance distance(const AskedNote& asked, const Candidate& candidate, int octaves,
                  const MatchSettings& settings) {
  const double wanted = asked.midi + asked.bend_cents / 100.0 + 12.0 * octaves;
  Distance best{std::numeric_limits<double>::infinity(), 0, false};
  for (std::size_t i = 0; i < candidate.reached.size(); ++i) {
    double off = candidate.reached[i] - wanted;
    const int shift =
        settings.octaves == Octaves::any ? static_cast<int>(std::lround(off / 12.0)) : 0;
    off -= 12.0 * shift;
    if (std::abs(off * 100.0) < std::abs(best.cents))
      best = {off * 100.0, octaves + shift, i > 0 || !candidate.onset};
  }
  return best;
}

Alignment align(std::span<const AskedNote> asked, std::span<const Candidate> candidates,
                const AnswerLine& line, const MatchSettings& settings) {
  enum class From : std::uint8_t { pair, missing, extra };
  const std::size_t rows = asked.size() + 1, columns = candidates.size() + 1;
  std::vector<double> cost(rows * columns, 0.0);
  std::vector<From> from(rows * columns, From::extra);
  const auto at = [&](std::size_t i, std::size_t j) { return i * columns + j; };
  for (std::size_t i = 0; i < rows; ++i)
    for (std::size_t j = 0; j < columns; ++j) {
      if (i == 0 && j == 0)
        continue;
      double best = std::numeric_limits<double>::infinity();
      const auto offer = [&](double value, From way) {
        if (value < best) {
          best = value;
          from[at(i, j)] = way;
        }
      };
      if (i > 0 && j > 0)
        offer(cost[at(i - 1, j - 1)] + pair_cost(asked[i - 1], candidates[j - 1], line, settings),
              From::pair);
      if (j > 0)
        offer(cost[at(i, j - 1)] + candidates[j - 1].skip_cost, From::extra);
      if (i > 0)
        offer(cost[at(i - 1, j)] + missing_cost, From::missing);
      cost[at(i, j)] = best;
    }
  Alignment result;
  result.candidate.resize(asked.size());
  result.cost = cost.back();
  for (std::size_t i = rows - 1, j = columns - 1; i > 0 || j > 0;) {
    const auto way = from[at(i, j)];
    if (way == From::pair)
      result.candidate[i - 1] = j - 1;
    i -= way == From::extra ? 0 : 1;
    j -= way == From::missing ? 0 : 1;
  }
  return result;
}

} // namespace landfall::ear
