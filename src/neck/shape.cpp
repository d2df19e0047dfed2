#include "neck/shape.hpp"

#include <algorithm>
#include <tuple>

namespace landfall::neck {
namespace {

constexpr std::int8_t x = muted;
constexpr std::array<ShapeForm, 5> forms{{
    {'C', 0, 3, {x, 3, 2, 0, 1, 0}, {0, 1, 3, 5, 1, 3}},
    {'A', 9, 2, {x, 0, 2, 2, 2, 0}, {0, 1, 5, 1, 3, 5}},
    {'G', 7, 3, {3, 2, 0, 0, 0, 3}, {1, 3, 5, 1, 3, 1}},
    {'E', 4, 2, {0, 2, 2, 1, 0, 0}, {1, 5, 1, 3, 5, 1}},
    {'D', 2, 3, {x, x, 0, 2, 3, 2}, {0, 0, 1, 5, 1, 3}},
}};

std::size_t at(int index) {
  return static_cast<std::size_t>(index);
}
int wrapped(int value) {
  return ((value % 12) + 12) % 12;
}

/// What one string of the form can play: frets relative to the nut, its own tone first.
struct Choice {
  int fret = muted;
  int tone = -1;    ///< Half steps above the root.
  int replaced = 0; ///< 1 for a doubled root given up, 2 for a fifth or a doubled third.
};

struct Choices {
  std::array<Choice, 8> of;
  int count = 0;

  void add(Choice choice) { of[at(count++)] = choice; }
};

class ShapeSearch {
public:
  ShapeSearch(const ShapeForm& form, int nut, const ChordTones& chord)
      : form_(form), nut_(nut), chord_(chord) {
    bool lowest_root = true, lowest_third = true;
    for (int string = 0; string < 6; ++string) {
      const int degree = form.degree[at(string)];
      if (degree > 0)
        list(choices_[at(string)], string, degree, degree == 1 ? lowest_root : lowest_third);
      lowest_root = lowest_root && degree != 1;
      lowest_third = lowest_third && degree != 3;
      choices_[at(string)].add({});
    }
  }

  FretRow best() {
    descend(0);
    return best_;
  }

private:
  /// Where the pitch a number of half steps above the root lies on a string, nearest to `near`.
  int fret_of(int string, int degree, int tone) const {
    constexpr std::array<int, 6> plain{0, 0, 0, 4, 0, 7};
    const int moved = wrapped(tone - plain[at(degree)] + 5) - 5;
    return form_.frets[at(string)] + moved;
  }

  void list(Choices& choices, int string, int degree, bool lowest) const {
    const int own = degree == 1 ? 0 : degree == 3 ? chord_.third : chord_.fifth;
    if (own >= 0) {
      constexpr std::array<int, 6> plain{0, 0, 0, 4, 0, 7};
      const int fret = form_.frets[at(string)] + own - plain[at(degree)];
      if (fret >= 0)
        choices.add({fret, own, 0});
    }
    if (degree != 5 && lowest)
      return;
    if (degree == 3) { // A doubled third makes room for nothing but an altered fifth.
      if (!chord_.plain_fifth)
        add_instead(choices, string, degree, chord_.fifth);
      return;
    }
    add_instead(choices, string, degree, chord_.seventh);
    for (int i = 0; i < chord_.extension_count; ++i)
      add_instead(choices, string, degree, chord_.extensions[at(i)]);
  }

  /// A tone that takes the string over, if it lies in the box's four frets.
  void add_instead(Choices& choices, int string, int degree, int tone) const {
    const int fret = tone < 0 ? muted : fret_of(string, degree, tone);
    if (fret >= 0 && fret <= 3)
      choices.add({fret, tone, degree == 1 ? 1 : 2});
  }

  void descend(int string) {
    if (string == 6)
      return weigh();
    for (int i = 0; i < choices_[at(string)].count; ++i) {
      taken_[at(string)] = choices_[at(string)].of[at(i)];
      descend(string + 1);
    }
  }

  /// Tones of the chord; with a seventh, the root in the bass; strings; with a seventh, no silent
  /// string between others; few tones given up; top strings first.
  using Worth = std::tuple<int, bool, int, int, int, int>;

  Worth worth() const {
    unsigned tones = 0;
    int sounding = 0, replaced = 0, height = 0, bass = -1, last = -1, gaps = 0;
    for (int string = 0; string < 6; ++string)
      if (const auto& choice = taken_[at(string)]; choice.fret >= 0) {
        tones |= 1U << choice.tone;
        ++sounding;
        gaps += bass < 0 ? 0 : string - last - 1;
        last = string;
        bass = bass < 0 ? choice.tone : bass;
        replaced += choice.replaced;
        height += 1 << string;
      }
    const bool seventh = chord_.seventh >= 0;
    return {weight(tones), seventh && bass == 0, sounding, seventh ? -gaps : 0, -replaced, height};
  }

  /// Root, third and seventh count most, then extensions and altered fifths, then the fifth.
  int weight(unsigned tones) const {
    const auto count = [&](int tone) { return tone >= 0 && ((tones >> tone) & 1U) != 0 ? 1 : 0; };
    int sum = 100 * (count(0) + count(chord_.third) + count(chord_.seventh));
    for (int i = 0; i < chord_.extension_count; ++i)
      sum += 10 * count(chord_.extensions[at(i)]);
    return sum + (chord_.plain_fifth ? 1 : 10) * count(chord_.fifth);
  }

  void weigh() {
    const auto value = worth();
    if (value <= best_worth_)
      return;
    FretRow row;
    for (int string = 0; string < 6; ++string)
      if (const int fret = taken_[at(string)].fret; fret >= 0)
        row[string] = static_cast<std::int8_t>(nut_ + fret);
    if (!fingered(row, 6))
      return;
    best_worth_ = value;
    best_ = row;
  }

  const ShapeForm& form_;
  int nut_;
  const ChordTones& chord_;
  std::array<Choices, 6> choices_{};
  std::array<Choice, 6> taken_{};
  Worth best_worth_{0, false, 0, 0, 0, 0};
  FretRow best_;
};

} // namespace

std::span<const ShapeForm> shape_forms() {
  return forms;
}

const ShapeForm* find_shape(char name) {
  const auto found = std::find_if(forms.begin(), forms.end(),
                                  [&](const ShapeForm& form) { return form.name == name; });
  return found == forms.end() ? nullptr : &*found;
}

int lowest_nut(const Fretboard& board, const ShapeForm& form, int root) {
  return wrapped(root - form.root - board.shape_offset.value_or(0));
}

FretRow shape_grip(const Fretboard& board, ChordShape shape, const ChordTones& chord) {
  const auto* form = find_shape(shape.name);
  if (form == nullptr)
    return {};
  const auto grip = ShapeSearch(*form, shape.nut, chord).best();
  FretRow row;
  for (int string = 0; string < 6; ++string)
    row[board.count - 6 + string] = grip[string];
  return row;
}

} // namespace landfall::neck
