#include "neck/group.hpp"

#include <algorithm>
#include <tuple>

namespace landfall::neck {
namespace {

constexpr int widest_pitch_span = 17;
constexpr int widest_fret_span = 4;

/// What a group is, from what its three notes are, lowest first.
struct Name {
  Group::Kind kind = Group::Kind::triad;
  std::string_view form;
};

constexpr std::array<std::string_view, 3> inversions{"root position", "first inversion",
                                                     "second inversion"};

/// Fifth chords by which notes are fifths (bit 0: the lowest), for b5, 5 and #5.
constexpr std::array<std::array<std::string_view, 8>, 3> fifth_forms{{
    {"", "b5-1-1", "1-b5-1", "b5-b5-1", "1-1-b5", "b5-1-b5", "1-b5-b5", ""},
    {"", "5-1-1", "1-5-1", "5-5-1", "1-1-5", "5-1-5", "1-5-5", ""},
    {"", "#5-1-1", "1-#5-1", "#5-#5-1", "1-1-#5", "#5-1-#5", "1-#5-#5", ""},
}};

std::size_t at(int index) {
  return static_cast<std::size_t>(index);
}

/// 0 root, 1 third, 2 fifth; none for another tone.
std::optional<int> member(const ChordTones& chord, int pitch) {
  const int tone = (pitch - chord.root + 132) % 12;
  if (tone == 0)
    return 0;
  if (tone == chord.third)
    return 1;
  return tone == chord.fifth ? std::optional(2) : std::nullopt;
}

std::optional<Name> named(const ChordTones& chord, const std::array<int, 3>& members) {
  unsigned present = 0, fifths = 0;
  for (int i = 0; i < 3; ++i) {
    present |= 1U << members[at(i)];
    fifths |= members[at(i)] == 2 ? 1U << i : 0U;
  }
  if (present == 0b111)
    return Name{Group::Kind::triad, inversions[at(members[0])]};
  const int alteration = chord.fifth - 7;
  if (present == 0b101 && alteration >= -1 && alteration <= 1)
    return Name{Group::Kind::fifth, fifth_forms[at(alteration + 1)][fifths]};
  return std::nullopt;
}

/// A root, third or fifth within reach on one string.
struct Tone {
  int fret = 0, pitch = 0, member = 0;
};
struct Tones {
  std::array<Tone, 16> of{};
  int count = 0;
};

class GroupSearch {
public:
  GroupSearch(const Fretboard& board, const ChordTones& chord, int low, const FretRow& grip)
      : board_(board), chord_(chord), grip_(grip) {
    const auto under = board.under(low);
    for (int string = 0; string < board.count; ++string)
      for (const auto range : {under.below, under.hand, under.above})
        for (int fret = range.first; fret <= range.last; ++fret)
          add(string, fret);
  }

  std::vector<Group> find() {
    found_.reserve(48);
    for (int string = 0; string + 2 < board_.count; ++string)
      for (const auto& a : all(string))
        for (const auto& b : all(string + 1))
          for (const auto& c : all(string + 2))
            weigh(string, a, b, c);
    std::stable_sort(found_.begin(), found_.end(), [](const Group& a, const Group& b) {
      return std::tuple(!a.in_grip, -a.strings[0], a.kind, a.frets) <
             std::tuple(!b.in_grip, -b.strings[0], b.kind, b.frets);
    });
    return std::move(found_);
  }

private:
  void add(int string, int fret) {
    const auto pitch = board_.pitch(string, fret);
    const auto what = pitch ? member(chord_, *pitch) : std::nullopt;
    auto& tones = tones_[at(string)];
    if (what && tones.count < static_cast<int>(tones.of.size()))
      tones.of[at(tones.count++)] = {fret, *pitch, *what};
  }

  std::span<const Tone> all(int string) const {
    const auto& tones = tones_[at(string)];
    return {tones.of.data(), at(tones.count)};
  }

  void weigh(int string, const Tone& a, const Tone& b, const Tone& c) {
    if (a.pitch >= b.pitch || b.pitch >= c.pitch || c.pitch - a.pitch > widest_pitch_span)
      return;
    const auto [lowest, highest] = std::minmax({a.fret, b.fret, c.fret});
    if (highest - lowest > widest_fret_span)
      return;
    const auto name = named(chord_, {a.member, b.member, c.member});
    if (!name)
      return;
    Group group;
    group.strings = {board_.number(string), board_.number(string + 1), board_.number(string + 2)};
    group.frets = {a.fret, b.fret, c.fret};
    group.pitches = {a.pitch, b.pitch, c.pitch};
    group.kind = name->kind;
    group.form = name->form;
    group.in_grip =
        grip_[string] == a.fret && grip_[string + 1] == b.fret && grip_[string + 2] == c.fret;
    found_.push_back(group);
  }

  const Fretboard& board_;
  const ChordTones& chord_;
  const FretRow& grip_;
  std::array<Tones, max_strings> tones_{};
  std::vector<Group> found_;
};

} // namespace

std::vector<Group> groups(const Fretboard& board, const ChordTones& chord, int low,
                          const FretRow& grip) {
  return GroupSearch(board, chord, low, grip).find();
}

std::vector<Group> groups(const ChordTones& chord, int lowest, int highest) {
  std::vector<Group> found;
  const auto wanted = chord.third >= 0 ? Group::Kind::triad : Group::Kind::fifth;
  const int widest = wanted == Group::Kind::triad ? 11 : 12;
  const auto add = [&](int a, int b, int c) {
    const auto first = member(chord, a), second = member(chord, b), third = member(chord, c);
    if (!first || !second || !third)
      return;
    const auto name = named(chord, {*first, *second, *third});
    if (name && name->kind == wanted)
      found.push_back({{}, {a, b, c}, {a, b, c}, wanted, name->form, false});
  };
  for (int a = lowest; a <= highest; ++a)
    for (int b = a + 1; b < a + widest; ++b)
      for (int c = b + 1; c <= std::min(a + widest, highest); ++c)
        add(a, b, c);
  return found;
}

} // namespace landfall::neck
