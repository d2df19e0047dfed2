#include "neck/target.hpp"

#include "theory/words.hpp"

#include <algorithm>
#include <array>

namespace landfall::neck {
namespace {

struct Named {
  std::string_view name;
  std::array<int, 2> numbers; ///< 0 for none.
};
constexpr std::array named{Named{"roots", {1, 0}}, Named{"thirds", {3, 0}}, Named{"fifths", {5, 0}},
                           Named{"sevenths", {7, 0}}, Named{"guide tones", {3, 7}}};

std::vector<int> numbers_of(const Named& row) {
  std::vector<int> numbers(row.numbers.begin(), row.numbers.end());
  std::erase(numbers, 0);
  return numbers;
}

} // namespace

Result<Target> parse_target(std::string_view text) {
  auto lowered = lower_case(text);
  std::replace(lowered.begin(), lowered.end(), ',', ' ');
  const auto pieces = words(lowered);
  const auto name = joined(pieces);
  if (name == "all")
    return Target{};
  if (name == "guide line")
    return Target{{}, true};
  for (const auto& row : named)
    if (row.name == name)
      return Target{numbers_of(row), false};
  Target target;
  for (const auto piece : pieces) {
    const auto degree = theory::parse_degree(piece);
    if (!degree)
      return TextError{"expected all, roots, thirds, fifths, sevenths, guide tones, guide line or "
                       "degree numbers such as \"3 7\"",
                       static_cast<int>(piece.data() - lowered.data()) + 1};
    target.numbers.push_back(folded(*degree).number);
  }
  if (target.numbers.empty())
    return TextError{"expected a target such as thirds or \"3 7\"", 1};
  std::sort(target.numbers.begin(), target.numbers.end());
  target.numbers.erase(std::unique(target.numbers.begin(), target.numbers.end()),
                       target.numbers.end());
  return target;
}

std::string target_text(const Target& target) {
  if (target.all())
    return "all";
  if (target.guide_line)
    return "guide line";
  std::string text;
  for (const auto& row : named)
    if (numbers_of(row) == target.numbers)
      return std::string(row.name);
  for (const int number : target.numbers)
    text += (text.empty() ? "" : " ") + std::to_string(number);
  return text;
}

bool aims_at(const Target& target, theory::Degree degree) {
  return target.numbers.empty() || std::find(target.numbers.begin(), target.numbers.end(),
                                             folded(degree).number) != target.numbers.end();
}

void aim(std::vector<NeckNote>& notes, const Target& target, const std::optional<NeckNote>& line) {
  for (auto& note : notes) {
    if (note.role != Role::landing)
      continue;
    const bool wanted = target.guide_line
                            ? line && line->string == note.string && line->midi == note.midi
                            : aims_at(target, note.degree);
    if (!wanted)
      note.role = note.in_set ? Role::set : Role::chord;
  }
}

} // namespace landfall::neck
