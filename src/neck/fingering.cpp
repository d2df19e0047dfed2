#include "neck/fingering.hpp"

#include <algorithm>

namespace landfall::neck {
namespace {

/// Neighbouring notes on one fret that one finger could hold.
struct Run {
  int first = 0, last = 0;
  bool level = true; ///< Nothing under it lies on a higher fret.
};

/// The notes on one fret.
struct Level {
  int fret = 0;
  int notes = 0;
  std::array<Run, 5> runs{};
  int run_count = 0;
};

/// A finger and what it holds.
struct Hold {
  int fret = 0;
  int first = 0, last = 0;
};

constexpr double price_of_little_barre = 3.0;
constexpr std::array<double, 12> price_of_stretch{0.0, 0.2, 0.6, 1.6, 4.0, 7.0,
                                                  9.0, 9.0, 9.0, 9.0, 9.0, 9.0};

class Hand {
public:
  Hand(const FretRow& row, int strings, int span) : row_(row), strings_(strings), span_(span) {}

  std::optional<Fingering> best() {
    if (find_levels())
      try_level(0, 0.0, 0);
    return best_;
  }

private:
  bool find_levels() {
    for (int string = 0; string < strings_; ++string) {
      const int fret = row_[string];
      opens_ = opens_ || fret == 0;
      if (fret > 0 && !add(string, fret))
        return false;
    }
    sort_levels();
    return level_count_ == 0 || levels_[at(level_count_ - 1)].fret - levels_[0].fret <= span_;
  }

  /// By fret; four at most.
  void sort_levels() {
    for (int i = 1; i < level_count_; ++i)
      for (int j = i; j > 0 && levels_[at(j)].fret < levels_[at(j - 1)].fret; --j)
        std::swap(levels_[at(j)], levels_[at(j - 1)]);
  }

  bool add(int string, int fret) {
    int i = 0;
    while (i < level_count_ && levels_[at(i)].fret != fret)
      ++i;
    if (i == 4)
      return false;
    auto& level = levels_[at(i)];
    if (i == level_count_) {
      ++level_count_;
      level.fret = fret;
    }
    ++level.notes;
    return join(level, string);
  }

  /// Lengthens the last run, or begins one if a lower, open or silent string lies between. False
  /// if that makes more runs than fingers.
  bool join(Level& level, int string) const {
    bool reaches = level.run_count > 0;
    bool flat = true;
    if (reaches)
      for (int s = level.runs[at(level.run_count - 1)].last + 1; s < string; ++s) {
        reaches = reaches && row_[s] > level.fret;
        flat = false;
      }
    if (!reaches) {
      level.runs[at(level.run_count++)] = {string, string, true};
      return level.run_count <= 4;
    }
    auto& run = level.runs[at(level.run_count - 1)];
    run.last = string;
    run.level = run.level && flat;
    return true;
  }

  /// The index finger can lie flat below the others; another finger's barre holds only its own
  /// fret, at most four strings. On the lowest fret such a barre stands beside an index finger
  /// only where nothing is fretted above.
  bool can_barre(int index, const Run& run) const {
    const auto& level = levels_[at(index)];
    const bool by_index = index == 0 && run.first == level.runs[0].first;
    if (run.first == run.last)
      return false;
    if (by_index)
      return true;
    return run.level && run.last - run.first <= 3 && (index > 0 || level_count_ == 1);
  }

  void try_level(int index, double strain, int barres) {
    if (index == level_count_)
      return take(strain);
    const auto& level = levels_[at(index)];
    const int before = hold_count_;
    if (level.notes <= 3 && hold(level, -1))
      try_level(index + 1, strain + level.notes, barres);
    hold_count_ = before;
    for (int run = 0; run < level.run_count; ++run)
      if (barres < 2 && can_barre(index, level.runs[at(run)])) {
        if (hold(level, run))
          try_level(index + 1,
                    strain +
                        (index == 0 && run == 0 ? 1.9
                         : index == 0           ? 2.2
                                                : 3.2) +
                        (opens_ ? 1.2 : 0.0) + (hold_count_ - before - 1),
                    barres + 1);
        hold_count_ = before;
      }
  }

  /// A finger for each note, but one for the whole of run `barre`. False if fingers run out.
  bool hold(const Level& level, int barre) {
    for (int run = 0; run < level.run_count; ++run) {
      const auto& [first, last, flat] = level.runs[at(run)];
      for (int string = first; string <= last; ++string) {
        if (row_[string] != level.fret)
          continue;
        if (hold_count_ == 4)
          return false;
        holds_[at(hold_count_++)] = {level.fret, string, run == barre ? last : string};
        if (run == barre)
          break;
      }
    }
    return true;
  }

  /// The highest finger that leaves enough for the holds after it; the little one holds at most two
  /// neighbouring strings.
  int highest_finger(int index) const {
    int most = 4;
    for (int i = index; i < hold_count_; ++i) {
      const auto& hold = holds_[at(i)];
      most = std::min(most, (hold.last > hold.first + 1 ? 3 : 4) - (i - index));
    }
    return most;
  }

  void take(double strain) {
    Fingering fingering;
    fingering.fingers = hold_count_;
    int previous = 0, previous_fret = 0;
    for (int i = 0; i < hold_count_; ++i) {
      const auto& hold = holds_[at(i)];
      const int most = highest_finger(i);
      const int finger = std::max(previous + 1, std::min(1 + hold.fret - holds_[0].fret, most));
      if (finger > most)
        return;
      if (i > 0 && hold.fret - previous_fret > finger - previous + 1)
        return;
      if (finger == 4 && hold.last > hold.first)
        strain += price_of_little_barre;
      previous = finger;
      previous_fret = hold.fret;
      place(fingering, hold, finger);
    }
    if (hold_count_ > 0)
      strain +=
          price_of_stretch[at(std::min(11, holds_[at(hold_count_ - 1)].fret - holds_[0].fret))];
    fingering.strain = strain;
    if (!best_ || strain < best_->strain)
      best_ = fingering;
  }

  void place(Fingering& fingering, const Hold& hold, int finger) const {
    for (int string = hold.first; string <= hold.last; ++string)
      if (row_[string] == hold.fret)
        fingering.finger[at(string)] = static_cast<std::int8_t>(finger);
    if (hold.last > hold.first)
      fingering.barres[at(fingering.barre_count++)] = {finger, hold.fret, hold.first, hold.last};
  }

  static std::size_t at(int index) { return static_cast<std::size_t>(index); }

  const FretRow& row_;
  int strings_, span_;
  std::array<Level, 4> levels_{};
  int level_count_ = 0;
  std::array<Hold, 4> holds_{};
  int hold_count_ = 0;
  bool opens_ = false;
  std::optional<Fingering> best_;
};

} // namespace

std::optional<Fingering> fingered(const FretRow& row, int strings, int span) {
  return Hand(row, strings, span).best();
}

} // namespace landfall::neck
