#include "neck/fingering.hpp"

#include <algorithm>

namespace landfall::neck {
namespace {

/// The notes on one fret.
struct Level {
  int fret = 0;
  int notes = 0;
  int first = 0, last = 0; ///< Outermost strings.
};

/// A finger and what it holds.
struct Hold {
  int fret = 0;
  int first = 0, last = 0;
};

class Hand {
public:
  Hand(const FretRow& row, int strings, int span) : row_(row), strings_(strings), span_(span) {}

  std::optional<Fingering> best() {
    if (!find_levels())
      return std::nullopt;
    for (unsigned barres = 0; barres < (1U << level_count_); ++barres)
      try_barres(barres);
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
    std::sort(levels_.begin(), levels_.begin() + level_count_,
              [](const Level& a, const Level& b) { return a.fret < b.fret; });
    return level_count_ == 0 || levels_[at(level_count_ - 1)].fret - levels_[0].fret <= span_;
  }

  bool add(int string, int fret) {
    for (int i = 0; i < level_count_; ++i)
      if (auto& level = levels_[at(i)]; level.fret == fret) {
        level.last = string;
        ++level.notes;
        return true;
      }
    if (level_count_ == 4)
      return false;
    levels_[at(level_count_++)] = {fret, 1, string, string};
    return true;
  }

  /// The index finger lies flat below the others; another finger's barre holds nothing but itself.
  bool can_barre(int index) const {
    const auto& level = levels_[at(index)];
    if (level.notes < 2 || (index > 0 && level.last - level.first > 3))
      return false;
    for (int string = level.first; string <= level.last; ++string) {
      const int fret = row_[string];
      if (index == 0 ? (fret != muted && fret < level.fret) : fret != level.fret)
        return false;
    }
    return true;
  }

  void try_barres(unsigned barres) {
    hold_count_ = 0;
    double strain = 0.0;
    int used_barres = 0;
    for (int i = 0; i < level_count_; ++i) {
      const auto& level = levels_[at(i)];
      if (((barres >> i) & 1U) != 0) {
        if (!can_barre(i) || ++used_barres > 2 || hold_count_ == 4)
          return;
        holds_[at(hold_count_++)] = {level.fret, level.first, level.last};
        strain += (i == 0 ? 2.0 : 3.2) + (opens_ ? 1.0 : 0.0);
      } else {
        if (hold_count_ + level.notes > 4 || level.notes > 3)
          return;
        for (int string = level.first; string <= level.last; ++string)
          if (row_[string] == level.fret)
            holds_[at(hold_count_++)] = {level.fret, string, string};
        strain += level.notes;
      }
    }
    take(strain);
  }

  void take(double strain) {
    Fingering fingering;
    fingering.fingers = hold_count_;
    int previous = 0, previous_fret = 0;
    for (int i = 0; i < hold_count_; ++i) {
      const auto& hold = holds_[at(i)];
      const int free = 4 - (hold_count_ - 1 - i);
      const int finger = std::max(previous + 1, std::min(1 + hold.fret - holds_[0].fret, free));
      if (i > 0 && hold.fret - previous_fret > finger - previous + 1)
        return;
      previous = finger;
      previous_fret = hold.fret;
      place(fingering, hold, finger);
    }
    if (hold_count_ > 0)
      strain += 0.5 * (holds_[at(hold_count_ - 1)].fret - holds_[0].fret);
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
