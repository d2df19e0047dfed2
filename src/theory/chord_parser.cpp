#include "theory/chord_build.hpp"

#include <array>
#include <cctype>

namespace landfall::theory {
namespace {

using Third = ChordMarks::Third;
using Base = ChordMarks::Base;

/// Reads a suffix mark by mark. Every take_ function moves past what it knows, or does nothing.
class SuffixReader {
public:
  explicit SuffixReader(std::string_view text) : text_(text), rest_(text) {}

  /// Stops at the end, or at a slash that opens a bass.
  bool read() {
    while (!rest_.empty() && !at_bass())
      if (!take_mark())
        return false;
    return open_ == 0;
  }

  std::string_view rest() const { return rest_; }
  int column() const { return static_cast<int>(text_.size() - rest_.size()) + 1; }

  ChordMarks marks() const {
    auto marks = marks_;
    if (marks.number == 0 && triangle_)
      marks.number = 7;
    if (marks.number == 0 && marks.base == Base::half_diminished)
      marks.number = 7;
    return marks;
  }

private:
  using Words = std::initializer_list<std::string_view>;

  bool at_bass() const { return rest_.front() == '/' && !rest_.starts_with("/9"); }

  bool take(Words words) {
    for (const auto word : words)
      if (rest_.starts_with(word)) {
        rest_.remove_prefix(word.size());
        return true;
      }
    return false;
  }

  bool take_mark() {
    if (marks_.altered && rest_.front() != ')')
      return false;
    return take_bracket() || take_omission() || take_added() || take_suspension() ||
           take_altered() || take_alteration() || take_quality() || take_number();
  }

  bool take_bracket() {
    if (take({"("}))
      return ++open_, true;
    if (open_ > 0 && take({")"}))
      return --open_, true;
    return text_.size() != rest_.size() && take({",", " "});
  }

  bool take_omission() {
    const auto before = rest_;
    if (take({"no", "omit"}) && (take({" "}), true))
      for (const int number : {3, 5, 1, 7})
        if (take({std::to_string(number)}))
          return marks_.omitted.insert(number), true;
    return rest_ = before, false;
  }

  bool take_added() {
    const auto before = rest_;
    if (!take({"add", "Add"}))
      return false;
    take({" ", "("});
    const int sign = take({"b", "♭"}) ? -1 : (take({"#", "♯"}) ? 1 : 0);
    constexpr std::array<std::pair<std::string_view, int>, 6> numbers{
        {{"9", 9}, {"11", 11}, {"13", 13}, {"2", 9}, {"4", 11}, {"6", 6}}};
    for (const auto& [word, number] : numbers)
      if (take({word}))
        return marks_.added.insert({number, sign}), true;
    return rest_ = before, false;
  }

  bool take_suspension() {
    if (marks_.power || !take({"sus", "Sus"}))
      return false;
    if (take({"2"}))
      marks_.sus2 = true;
    else
      take({"4"}), marks_.sus4 = true;
    return true;
  }

  bool take_altered() {
    const bool plain = says_nothing() && (marks_.number == 0 || marks_.number == 7);
    if (!plain || !take({"alt"}))
      return false;
    marks_.altered = true;
    marks_.number = 7;
    return true;
  }

  /// A sign and a number. Minus and plus count as signs only behind a number: C-7 is minor.
  bool take_alteration() {
    const auto before = rest_;
    const bool behind_number = marks_.number != 0;
    int sign = 0;
    if (take({"b", "♭"}) || (behind_number && take({"-", "−", "–"})))
      sign = -1;
    else if (take({"#", "♯"}) || (behind_number && take({"+"})))
      sign = 1;
    constexpr std::array<std::pair<std::string_view, Degree>, 4> lowered{
        {{"5", {5, -1}}, {"9", {9, -1}}, {"13", {13, -1}}, {"6", {6, -1}}}};
    constexpr std::array<std::pair<std::string_view, Degree>, 4> raised{
        {{"5", {5, 1}}, {"9", {9, 1}}, {"11", {11, 1}}, {"4", {11, 1}}}};
    const auto try_all = [&](const auto& words) {
      for (const auto& [word, degree] : words)
        if (!(degree.number == 5 && marks_.base != Base::plain) && take({word}))
          return marks_.alterations.insert(degree), true;
      return false;
    };
    if ((sign < 0 && try_all(lowered)) || (sign > 0 && try_all(raised)))
      return true;
    return rest_ = before, false;
  }

  /// Nothing but perhaps a number was read: no mark that a later one could contradict.
  bool says_nothing() const {
    return marks_.third == Third::major && marks_.base == Base::plain && !marks_.power &&
           !marks_.major_seventh && !marks_.sus2 && !marks_.sus4 && marks_.alterations.empty() &&
           marks_.added.empty() && marks_.omitted.empty();
  }

  bool take_quality() {
    return !marks_.power && (take_major() || take_minor() || take_fifth_quality());
  }

  bool take_major() {
    if (marks_.major_seventh || (marks_.number != 0 && marks_.number != 7))
      return false;
    if (take({"Δ", "∆", "△"}))
      return marks_.major_seventh = triangle_ = true;
    if (rest_.starts_with("madd") || rest_.starts_with("mAdd"))
      return false;
    if (!take({"major", "Major", "maj", "Maj", "MAJ", "ma", "Ma", "MA", "j"}) && !take_capital_m())
      return false;
    take({" "});
    return marks_.major_seventh = true;
  }

  bool take_capital_m() {
    return !rest_.starts_with("Mi") && !rest_.starts_with("MI") && take({"M"});
  }

  bool take_minor() {
    if (!says_nothing() || marks_.number != 0 ||
        !take({"minor", "Minor", "min", "Min", "MIN", "mi", "Mi", "MI", "m", "-", "−", "–"}))
      return false;
    marks_.third = Third::minor;
    return true;
  }

  bool take_fifth_quality() {
    if (says_nothing() && marks_.number == 0) {
      if (take({"dim", "Dim", "o", "°", "º"}))
        return marks_.third = Third::minor, marks_.base = Base::diminished, true;
      if (take({"ø", "Ø"}))
        return marks_.third = Third::minor, marks_.base = Base::half_diminished, true;
      if (take({"aug", "Aug", "+"}))
        return marks_.base = Base::augmented, true;
    }
    if (marks_.base == Base::plain && take({"aug", "Aug", "+"}))
      return marks_.alterations.insert({5, 1}), true;
    return false;
  }

  bool take_number() {
    if (marks_.number != 0)
      return take_ninth_of_six();
    if (marks_.power)
      return false;
    if (take({"6/9", "69"}))
      return marks_.number = 6, marks_.six_nine = true;
    take({"dom"});
    for (const int number : {13, 11, 9, 7, 6})
      if (take({std::to_string(number)}))
        return marks_.number = number, true;
    return says_nothing() && take_bare_number();
  }

  bool take_bare_number() {
    if (take({"5"}))
      return marks_.power = true;
    if (take({"2"}))
      return marks_.added.insert({9, 0}), true;
    if (take({"4"}))
      return marks_.sus4 = true;
    return false;
  }

  bool take_ninth_of_six() {
    return marks_.number == 6 && !marks_.six_nine && take({"/9", "9"}) && (marks_.six_nine = true);
  }

  std::string_view text_;
  std::string_view rest_;
  ChordMarks marks_;
  int open_ = 0;
  bool triangle_ = false;
};

TextError unreadable(const SuffixReader& reader, int offset) {
  const int column = reader.column() + offset;
  if (reader.rest().empty())
    return {"the chord symbol ends before its bracket is closed", column};
  // a whole character, not a lone byte of it
  std::size_t length = 1;
  while (length < reader.rest().size() &&
         (static_cast<unsigned char>(reader.rest()[length]) & 0xC0U) == 0x80U)
    ++length;
  return {"unexpected '" + std::string(reader.rest().substr(0, length)) +
              "' in the chord symbol; expected a quality such as m7, maj9, dim, 7sus4 or a slash "
              "and a bass note",
          column};
}

} // namespace

Result<Chord> parse_chord_suffix(std::string_view text) {
  SuffixReader reader(text);
  if (!reader.read() || !reader.rest().empty())
    return unreadable(reader, 0);
  const auto marks = reader.marks();
  return Chord{{}, suffix_of(marks), degrees_of(marks), std::nullopt};
}

Result<Chord> parse_chord(std::string_view text) {
  if (text.empty() || text.front() < 'A' || text.front() > 'G')
    return TextError{"expected a chord that begins with a capital letter from A to G", 1};
  auto rest = text;
  const auto root = take_note(rest);
  if (!root)
    return root.error();
  const int offset = static_cast<int>(text.size() - rest.size());
  SuffixReader reader(rest);
  if (!reader.read())
    return unreadable(reader, offset);
  const auto marks = reader.marks();
  Chord chord{*root, suffix_of(marks), degrees_of(marks), std::nullopt};
  if (reader.rest().empty())
    return chord;
  const auto bass = parse_note(reader.rest().substr(1));
  if (!bass)
    return TextError{"expected a bass note after the slash", offset + reader.column() + 1};
  chord.bass = *bass;
  return chord;
}

} // namespace landfall::theory
