#include "theory/chord.hpp"

#include <algorithm>

namespace landfall::theory {

std::string ascii(const Chord& chord) {
  auto text = ascii(chord.root) + chord.suffix;
  if (chord.bass)
    text += "/" + ascii(*chord.bass);
  return text;
}

std::vector<Note> notes(const Chord& chord) {
  return notes_at(chord.root, chord.degrees);
}

std::optional<Degree> degree_in(const Chord& chord, int pitch_class) {
  const int above = ((pitch_class - theory::pitch_class(chord.root)) % 12 + 12) % 12;
  for (const auto degree : chord.degrees)
    if (theory::pitch_class(degree) == above)
      return degree;
  return std::nullopt;
}

bool same_tones(const Chord& a, const Chord& b) {
  if (pitch_class(a.root) != pitch_class(b.root) || a.degrees.size() != b.degrees.size())
    return false;
  return std::all_of(a.degrees.begin(), a.degrees.end(), [&](Degree degree) {
    return degree_in(b, pitch_class(b.root) + half_steps(degree)).has_value();
  });
}

std::optional<Degree> degree_numbered(const Chord& chord, int number) {
  const auto found = std::find_if(chord.degrees.begin(), chord.degrees.end(),
                                  [&](Degree degree) { return degree.number == number; });
  return found == chord.degrees.end() ? std::nullopt : std::optional(*found);
}

namespace {

bool has(const Chord& chord, Degree degree) {
  return std::find(chord.degrees.begin(), chord.degrees.end(), degree) != chord.degrees.end();
}

bool is_suspended(const Chord& chord) {
  return !degree_numbered(chord, 3) && (degree_numbered(chord, 4) || degree_numbered(chord, 2));
}

} // namespace

Quality quality(const Chord& chord) {
  if (is_suspended(chord))
    return Quality::suspended;
  if (has(chord, {3, -1})) {
    if (!has(chord, {5, -1}))
      return Quality::minor;
    return has(chord, {7, -1}) ? Quality::half_diminished : Quality::diminished;
  }
  if (has(chord, {5, 1}) && !has(chord, {5, 0}))
    return Quality::augmented;
  return has(chord, {7, -1}) ? Quality::dominant : Quality::major;
}

bool is_minor(const Chord& chord) {
  return has(chord, {3, -1});
}

std::vector<Degree> guide_tones(const Chord& chord) {
  std::vector<Degree> tones;
  const auto add = [&](std::optional<Degree> degree) {
    if (degree)
      tones.push_back(*degree);
  };
  add(degree_numbered(chord, 3));
  if (tones.empty() && is_suspended(chord))
    add(degree_numbered(chord, degree_numbered(chord, 4) ? 4 : 2));
  if (const auto fifth = degree_numbered(chord, 5); fifth && fifth->alteration != 0)
    add(fifth);
  add(degree_numbered(chord, degree_numbered(chord, 7) ? 7 : 6));
  return tones;
}

} // namespace landfall::theory
