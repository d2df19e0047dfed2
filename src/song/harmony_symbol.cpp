#include "song/harmony_symbol.hpp"

#include "theory/chord.hpp"

#include <array>
#include <cstdlib>
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

} // namespace

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
