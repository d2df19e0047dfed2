#include "theory/roman.hpp"

#include <array>
#include <cctype>

namespace landfall::theory {
namespace {

constexpr std::array<std::string_view, 7> numerals{"I", "II", "III", "IV", "V", "VI", "VII"};
constexpr std::array<std::string_view, 7> small_numerals{"i", "ii", "iii", "iv", "v", "vi", "vii"};

struct Head {
  Degree degree;
  bool numeral = false; ///< and not a number
  bool minor = false;
};

bool take_sign(std::string_view& text, Degree& degree) {
  constexpr std::array<std::pair<std::string_view, int>, 4> signs{
      {{"b", -1}, {"#", 1}, {"♭", -1}, {"♯", 1}}};
  for (const auto& [sign, step] : signs)
    if (text.starts_with(sign)) {
      text.remove_prefix(sign.size());
      degree.alteration += step;
      return true;
    }
  return false;
}

/// The index of the longest entry that `text` starts with, taken off it.
std::optional<int> take_longest(std::string_view& text,
                                const std::array<std::string_view, 7>& names) {
  std::optional<std::size_t> best;
  for (std::size_t i = 0; i < names.size(); ++i)
    if (text.starts_with(names[i]) && (!best || names[i].size() > names[*best].size()))
      best = i;
  if (!best)
    return std::nullopt;
  text.remove_prefix(names[*best].size());
  return static_cast<int>(*best);
}

std::optional<Head> take_head(std::string_view& text) {
  Head head;
  auto rest = text;
  while (take_sign(rest, head.degree)) {
  }
  if (std::abs(head.degree.alteration) > 1)
    return std::nullopt;
  if (const auto large = take_longest(rest, numerals)) {
    head = {{*large + 1, head.degree.alteration}, true, false};
  } else if (const auto small = take_longest(rest, small_numerals)) {
    head = {{*small + 1, head.degree.alteration}, true, true};
  } else if (!rest.empty() && rest.front() >= '1' && rest.front() <= '7') {
    head.degree.number = rest.front() - '0';
    rest.remove_prefix(1);
  } else {
    return std::nullopt;
  }
  text = rest;
  return head;
}

bool says_its_third(std::string_view suffix) {
  for (const std::string_view mark : {"-", "−", "–", "o", "°", "º", "ø", "Ø", "dim", "mi"})
    if (suffix.starts_with(mark) && !suffix.starts_with("omit"))
      return true;
  const bool letter_m = suffix.starts_with("m");
  const bool major = suffix.starts_with("ma") && !suffix.starts_with("madd");
  return letter_m && !major;
}

/// Where the slash of a bass or a target stands, if there is one: not the one of 6/9.
std::size_t slash_in(std::string_view suffix) {
  const auto slash = suffix.rfind('/');
  if (slash == std::string_view::npos || suffix.substr(slash) == "/9")
    return std::string_view::npos;
  return slash;
}

Result<Chord> chord_on(const Head& head, std::string_view suffix, Key key, int column) {
  const bool add_m = head.minor && !says_its_third(suffix);
  auto chord = parse_chord_suffix((add_m ? "m" : "") + std::string(suffix));
  if (!chord) {
    auto error = chord.error();
    error.column += column - 1 - (add_m ? 1 : 0);
    return error;
  }
  chord->root = simplified(note_at(key.tonic, head.degree));
  return chord;
}

std::string numeral_of(Degree degree, bool small) {
  const auto index = static_cast<std::size_t>(degree.number - 1);
  const auto signs = static_cast<std::size_t>(std::abs(degree.alteration));
  std::string text(signs, degree.alteration < 0 ? 'b' : '#');
  return text.append(small ? small_numerals[index] : numerals[index]);
}

/// The degree with the fewest signs: in Gb the chord B stands on 4, written Cb or B.
Degree plain_degree(Note tonic, Note note) {
  const auto degree = degree_between(tonic, note);
  if (std::abs(degree.alteration) <= 1)
    return degree;
  return usual_degree(pitch_class(note) - pitch_class(tonic) + 12);
}

} // namespace

std::string roman(const Chord& chord, Key key) {
  const bool small = is_minor(chord);
  std::string_view suffix = chord.suffix;
  if (small && suffix.starts_with("m") && !suffix.starts_with("maj"))
    suffix.remove_prefix(1);
  auto text = numeral_of(plain_degree(key.tonic, chord.root), small).append(suffix);
  if (chord.bass)
    text += "/" + ascii(plain_degree(key.tonic, *chord.bass));
  return text;
}

Result<Chord> parse_numeral(std::string_view text, Key key) {
  auto rest = text;
  const auto head = take_head(rest);
  if (!head)
    return TextError{"expected a chord symbol, a numeral from I to VII or a number from 1 to 7", 1};
  const auto column = [&](std::string_view at) {
    return static_cast<int>(text.size() - at.size()) + 1;
  };
  const auto slash = slash_in(rest);
  auto chord = chord_on(*head, rest.substr(0, slash), key, column(rest));
  if (!chord || slash == std::string_view::npos)
    return chord;
  auto target_text = rest.substr(slash + 1);
  const int target_column = column(target_text);
  const auto target = take_head(target_text);
  if (!target || !target_text.empty())
    return TextError{"expected a bass such as 3 or b7, or a numeral, after the slash",
                     target_column};
  const auto note = simplified(note_at(key.tonic, target->degree));
  if (target->numeral)
    return chord_on(*head, rest.substr(0, slash), {note, target->minor}, column(rest));
  chord->bass = note;
  return chord;
}

} // namespace landfall::theory
