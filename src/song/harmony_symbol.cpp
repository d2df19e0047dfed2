#include "song/harmony_symbol.hpp"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <optional>
#include <string_view>

namespace landfall::song {
namespace {

struct Kind {
  std::string_view name;
  std::string_view suffix;
};

/// MusicXML 4.0, kind-value.
constexpr std::array kinds{Kind{"major", ""},
                           Kind{"minor", "m"},
                           Kind{"augmented", "+"},
                           Kind{"diminished", "dim"},
                           Kind{"dominant", "7"},
                           Kind{"major-seventh", "maj7"},
                           Kind{"minor-seventh", "m7"},
                           Kind{"diminished-seventh", "dim7"},
                           Kind{"augmented-seventh", "7#5"},
                           Kind{"half-diminished", "m7b5"},
                           Kind{"major-minor", "mMaj7"},
                           Kind{"major-sixth", "6"},
                           Kind{"minor-sixth", "m6"},
                           Kind{"dominant-ninth", "9"},
                           Kind{"major-ninth", "maj9"},
                           Kind{"minor-ninth", "m9"},
                           Kind{"dominant-11th", "11"},
                           Kind{"major-11th", "maj11"},
                           Kind{"minor-11th", "m11"},
                           Kind{"dominant-13th", "13"},
                           Kind{"major-13th", "maj13"},
                           Kind{"minor-13th", "m13"},
                           Kind{"suspended-second", "sus2"},
                           Kind{"suspended-fourth", "sus4"},
                           Kind{"power", "5"}};

std::string signs(int alter) {
  return alter < 0 ? std::string(static_cast<std::size_t>(-alter), 'b')
                   : std::string(static_cast<std::size_t>(alter), '#');
}

bool reads(const std::string& symbol) {
  return static_cast<bool>(theory::parse_chord(symbol));
}

const Kind* kind_named(std::string_view name) {
  for (const auto& kind : kinds)
    if (kind.name == name)
      return &kind;
  return nullptr;
}

/// `(b9)`, `add9` on a triad, `(no3)`.
std::string degree_text(const HarmonyElement::Degree& degree, bool triad) {
  const auto name = signs(degree.alter) + std::to_string(degree.value);
  if (degree.type == "subtract")
    return "(no" + std::to_string(degree.value) + ")";
  if (degree.type == "add" && triad && degree.alter == 0)
    return "add" + name;
  return "(" + name + ")";
}

void report(std::string& problem, const std::string& more) {
  problem += (problem.empty() ? "" : "; ") + more;
}

/// What makes `wanted` of the kind's degrees.
std::vector<HarmonyElement::Degree> differences(const std::vector<theory::Degree>& kind,
                                                const std::vector<theory::Degree>& wanted) {
  std::vector<HarmonyElement::Degree> all;
  const auto in = [](const auto& list, theory::Degree degree) {
    return std::find(list.begin(), list.end(), degree) != list.end();
  };
  const auto numbered = [](const auto& list, int number) {
    return std::any_of(list.begin(), list.end(),
                       [&](theory::Degree degree) { return degree.number == number; });
  };
  for (const auto degree : wanted)
    if (!in(kind, degree))
      all.push_back(
          {degree.number, degree.alteration, numbered(kind, degree.number) ? "alter" : "add"});
  for (const auto degree : kind)
    if (!numbered(wanted, degree.number))
      all.push_back({degree.number, degree.alteration, "subtract"});
  return all;
}

} // namespace

HarmonyElement harmony_of(const theory::Chord& chord) {
  HarmonyElement element;
  element.root = theory::ascii(theory::Note{chord.root.letter, 0}).front();
  element.root_alter = chord.root.accidental;
  if (chord.bass) {
    element.bass = theory::ascii(theory::Note{chord.bass->letter, 0}).front();
    element.bass_alter = chord.bass->accidental;
  }
  element.kind_text = chord.suffix;
  std::optional<HarmonyElement> best;
  for (const auto& kind : kinds) {
    const auto plain = theory::parse_chord_suffix(kind.suffix);
    auto trial = element;
    trial.kind = kind.name;
    trial.degrees = differences(plain->degrees, chord.degrees);
    std::string problem;
    const auto again = theory::parse_chord(harmony_symbol(trial, problem));
    if (again && problem.empty() && again->suffix == chord.suffix &&
        (!best || trial.degrees.size() < best->degrees.size()))
      best = std::move(trial);
  }
  element.kind = "other";
  return best.value_or(element);
}

std::string harmony_symbol(const HarmonyElement& harmony, std::string& problem) {
  if (harmony.kind == "none")
    return "N.C.";
  const std::string root = harmony.root + signs(harmony.root_alter);
  std::string symbol = root;
  const auto* kind = kind_named(harmony.kind);
  if (kind != nullptr)
    symbol += kind->suffix;
  else if (!harmony.kind_text.empty() && reads(root + harmony.kind_text))
    symbol += harmony.kind_text;
  else
    report(problem, "the kind '" + harmony.kind + "' is not known here: taken as " + root);
  const bool triad = kind != nullptr && (kind->suffix.empty() || kind->suffix == "m" ||
                                         kind->suffix == "+" || kind->suffix == "dim");
  for (const auto& degree : harmony.degrees) {
    const auto text = degree_text(degree, triad);
    if (reads(symbol + text))
      symbol += text;
    else
      report(problem, "the degree " + text + " of " + symbol + " was left out");
  }
  if (harmony.bass != 0)
    symbol += std::string("/") + harmony.bass + signs(harmony.bass_alter);
  return symbol;
}

} // namespace landfall::song
