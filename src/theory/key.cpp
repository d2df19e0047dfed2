#include "theory/key.hpp"

#include "theory/words.hpp"

#include <array>
#include <cstdlib>

namespace landfall::theory {
namespace {

constexpr bool flat_major[12] = {false, true,  false, true,  false, true,
                                 false, false, true,  false, true,  false};
constexpr bool flat_minor[12] = {true,  false, true,  true,  false, true,
                                 false, true,  false, false, true,  false};

Note usual_tonic(int pitch_class, bool minor) {
  const auto index = static_cast<std::size_t>((pitch_class % 12 + 12) % 12);
  return plain_note(static_cast<int>(index), minor ? flat_minor[index] : flat_major[index]);
}

const std::vector<Degree> major_degrees{{1, 0}, {2, 0}, {3, 0}, {4, 0}, {5, 0}, {6, 0}, {7, 0}};
const std::vector<Degree> minor_degrees{{1, 0}, {2, 0}, {3, -1}, {4, 0}, {5, 0}, {6, -1}, {7, -1}};

} // namespace

Result<Key> parse_key(std::string_view text) {
  auto rest = text;
  const auto tonic = take_note(rest);
  if (!tonic)
    return TextError{"expected a key such as A, F# or Ebm", 1};
  const auto mode = trimmed(rest);
  if (mode.empty() || mode == "M" || lower_case(mode) == "major" || lower_case(mode) == "maj")
    return Key{*tonic, false};
  if (mode == "m" || mode == "-" || lower_case(mode) == "minor" || lower_case(mode) == "min")
    return Key{*tonic, true};
  return TextError{"'" + std::string(mode) + "' is no mode: expected a key such as A, F# or Ebm",
                   static_cast<int>(text.size() - rest.size()) + 1};
}

std::string ascii(Key key) {
  return ascii(key.tonic) + (key.minor ? "m" : "");
}

int signature(Key key) {
  constexpr std::array<int, 7> fifths{0, 2, 4, -1, 1, 3, 5};
  return fifths[static_cast<std::size_t>(key.tonic.letter)] + 7 * key.tonic.accidental -
         (key.minor ? 3 : 0);
}

const std::vector<Degree>& degrees(Key key) {
  return key.minor ? minor_degrees : major_degrees;
}

Chord tonic_chord(Key key) {
  return {key.tonic, key.minor ? "m" : "", {{1, 0}, {3, key.minor ? -1 : 0}, {5, 0}}, std::nullopt};
}

Key usual_key(Key key) {
  if (std::abs(signature(key)) <= 6)
    return key;
  return {usual_tonic(pitch_class(key.tonic), key.minor), key.minor};
}

Key transposed(Key key, int half_steps) {
  if (half_steps % 12 == 0)
    return key;
  return {usual_tonic(pitch_class(key.tonic) + half_steps % 12 + 12, key.minor), key.minor};
}

Chord transposed(const Chord& chord, Key from, Key to) {
  const auto moved = [&](Note note) {
    return simplified(note_at(to.tonic, degree_between(from.tonic, note)));
  };
  auto result = chord;
  result.root = moved(chord.root);
  if (chord.bass)
    result.bass = moved(*chord.bass);
  return result;
}

Note spelled_in(Key key, int pitch_class) {
  for (const auto degree : degrees(key))
    if (const auto note = note_at(key.tonic, degree); theory::pitch_class(note) == pitch_class)
      return note;
  const int above = ((pitch_class - theory::pitch_class(key.tonic)) % 12 + 12) % 12;
  const Degree degree = above == 6 ? Degree{4, 1} : usual_degree(above);
  return simplified(note_at(key.tonic, degree));
}

} // namespace landfall::theory
