#pragma once

#include "practice/what_next.hpp"
#include "time/random.hpp"

#include <cmath>

namespace landfall::test {

/// A player who gets better at what they practise and forgets what they do not. Each cell has a
/// skill: the chance to land a change there. Practice takes it a share of the way to what can be
/// reached, less each time within a session; rest lets it sink back.
class Learner {
public:
  explicit Learner(std::uint64_t seed) : seed_(seed) {}

  /// From 0 to 1; cells differ from the start.
  double skill(const practice::Cell& cell) {
    return skills_.try_emplace(cell, 0.15 + 0.6 * chance({number_of(cell)})).first->second;
  }

  /// One chorus with so many changes.
  practice::ChorusRecord play(const practice::Proposal& proposal, practice::Instant when,
                              int changes = 8) {
    practice::ChorusRecord record;
    record.when = when;
    record.cell = proposal.cell;
    record.over = proposal.over;
    record.song = proposal.song;
    record.tempo = proposal.tempo;
    record.length = practice::Seconds{30};
    auto& skilled = skills_[proposal.cell];
    skilled = skill(proposal.cell);
    for (int i = 0; i < changes; ++i) {
      const bool landed = chance({++draws_, 3}) < skilled;
      ++record.summary.changes;
      ++(landed ? record.summary.landed : record.summary.off);
      if (landed)
        ++record.summary.by_degree[chance({++draws_, 4}) < 0.5 ? 1 : 3].landed;
    }
    skilled += (0.97 - skilled) * 0.025;
    return record;
  }

  /// A day goes by: skills sink by a hundredth and a half of what was gained over a fair beginning.
  void sleep() {
    for (auto& [cell, skilled] : skills_)
      skilled -= std::max(0.0, skilled - 0.15) * 0.015;
  }

  double mean(const std::vector<practice::Cell>& cells) {
    double sum = 0;
    for (const auto& cell : cells)
      sum += skill(cell);
    return sum / static_cast<double>(cells.size());
  }

private:
  double chance(std::initializer_list<std::uint64_t> from) const {
    std::uint64_t state = seed_;
    for (const auto value : from)
      state = mixed(state ^ mixed(value));
    return static_cast<double>(state >> 11U) / static_cast<double>(1ULL << 53U);
  }
  static std::uint64_t number_of(const practice::Cell& cell) {
    std::uint64_t number = 1;
    for (const char c : practice::cell_words(cell))
      number = mixed(number ^ static_cast<unsigned char>(c));
    return number;
  }

  std::uint64_t seed_;
  std::uint64_t draws_ = 0;
  std::map<practice::Cell, double> skills_;
};

} // namespace landfall::test
