#include "theory/scale.hpp"

#include "theory/words.hpp"

#include <array>

namespace landfall::theory {
namespace {

struct Row {
  std::string_view name;
  std::string_view degrees;
  std::string_view other_names; ///< separated by commas
};

// The modes of the harmonic and melodic minor go by their usual names in jazz teaching.
constexpr std::array rows{
    Row{"major", "1 2 3 4 5 6 7", "ionian"},
    Row{"dorian", "1 2 b3 4 5 6 b7", ""},
    Row{"phrygian", "1 b2 b3 4 5 b6 b7", ""},
    Row{"lydian", "1 2 3 #4 5 6 7", ""},
    Row{"mixolydian", "1 2 3 4 5 6 b7", ""},
    Row{"natural minor", "1 2 b3 4 5 b6 b7", "aeolian,minor"},
    Row{"locrian", "1 b2 b3 4 b5 b6 b7", ""},
    Row{"major pentatonic", "1 2 3 5 6", ""},
    Row{"minor pentatonic", "1 b3 4 5 b7", ""},
    Row{"blues", "1 b3 4 b5 5 b7", "minor blues"},
    Row{"major blues", "1 2 b3 3 5 6", ""},
    Row{"composite", "1 2 b3 3 5 6 b7", ""},
    Row{"harmonic minor", "1 2 b3 4 5 b6 7", ""},
    Row{"locrian natural 6", "1 b2 b3 4 b5 6 b7", ""},
    Row{"ionian augmented", "1 2 3 4 #5 6 7", ""},
    Row{"dorian #4", "1 2 b3 #4 5 6 b7", ""},
    Row{"phrygian dominant", "1 b2 3 4 5 b6 b7", ""},
    Row{"lydian #2", "1 #2 3 #4 5 6 7", ""},
    Row{"altered diminished", "1 b2 b3 b4 b5 b6 bb7", ""},
    Row{"melodic minor", "1 2 b3 4 5 6 7", "jazz minor"},
    Row{"dorian b2", "1 b2 b3 4 5 6 b7", ""},
    Row{"lydian augmented", "1 2 3 #4 #5 6 7", ""},
    Row{"lydian dominant", "1 2 3 #4 5 6 b7", ""},
    Row{"mixolydian b6", "1 2 3 4 5 b6 b7", ""},
    Row{"locrian natural 2", "1 2 b3 4 b5 b6 b7", ""},
    Row{"altered", "1 b2 b3 b4 b5 b6 b7", "super locrian"},
    Row{"whole tone", "1 2 3 #4 #5 b7", ""},
    Row{"half-whole diminished", "1 b2 b3 3 #4 5 6 b7", "half whole diminished"},
    Row{"whole-half diminished", "1 2 b3 4 b5 b6 bb7 7", "whole half diminished"},
    Row{"dominant bebop", "1 2 3 4 5 6 b7 7", "bebop dominant"},
    Row{"major bebop", "1 2 3 4 5 #5 6 7", "bebop major"},
    Row{"minor bebop", "1 2 b3 3 4 5 6 b7", "bebop minor,dorian bebop"},
};

std::vector<Degree> read_degrees(std::string_view text) {
  std::vector<Degree> degrees;
  for (const auto word : words(text))
    degrees.push_back(parse_degree(word).value());
  return degrees;
}

const std::vector<Scale>& table() {
  static const std::vector<Scale> scales = [] {
    std::vector<Scale> made;
    for (const auto& row : rows)
      made.push_back({std::string(row.name), read_degrees(row.degrees)});
    return made;
  }();
  return scales;
}

bool named(const Row& row, std::string_view wanted) {
  if (row.name == wanted)
    return true;
  auto others = row.other_names;
  while (!others.empty()) {
    const auto comma = others.find(',');
    if (others.substr(0, comma) == wanted)
      return true;
    others = comma == std::string_view::npos ? "" : others.substr(comma + 1);
  }
  return false;
}

} // namespace

std::span<const Scale> all_scales() {
  return table();
}

const Scale* find_scale(std::string_view name) {
  const auto lowered = lower_case(name);
  const auto wanted = joined(words(lowered));
  for (std::size_t i = 0; i < rows.size(); ++i)
    if (named(rows[i], wanted))
      return &table()[i];
  return nullptr;
}

Result<RootedScale> parse_rooted_scale(std::string_view text) {
  auto rest = text;
  const auto root = take_note(rest);
  if (!root)
    return root.error();
  const int column = static_cast<int>(text.size() - rest.size()) + 1;
  const auto* scale = rest.starts_with(' ') ? find_scale(rest) : nullptr;
  if (scale == nullptr)
    return TextError{"'" + joined(words(rest)) + "' is not the name of a scale", column};
  return RootedScale{*root, scale};
}

} // namespace landfall::theory
