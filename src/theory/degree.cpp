#include "theory/degree.hpp"

#include <array>
#include <charconv>
#include <cstdlib>

namespace landfall::theory {
namespace {

constexpr std::array<int, 7> major_steps{0, 2, 4, 5, 7, 9, 11};

int wrapped(int value) {
  return ((value % 12) + 12) % 12;
}

} // namespace

int half_steps(Degree degree) {
  const int index = degree.number - 1;
  return 12 * (index / 7) + major_steps[static_cast<std::size_t>(index % 7)] + degree.alteration;
}

int pitch_class(Degree degree) {
  return wrapped(half_steps(degree));
}

Degree folded(Degree degree) {
  return {(degree.number - 1) % 7 + 1, degree.alteration};
}

std::string ascii(Degree degree) {
  const auto signs = static_cast<std::size_t>(std::abs(degree.alteration));
  return std::string(signs, degree.alteration < 0 ? 'b' : '#') + std::to_string(degree.number);
}

Result<Degree> parse_degree(std::string_view text) {
  Degree degree{0, 0};
  auto rest = text;
  constexpr std::array<std::pair<std::string_view, int>, 4> signs{
      {{"♭", -1}, {"♯", 1}, {"b", -1}, {"#", 1}}};
  for (bool found = true; found;) {
    found = false;
    for (const auto& [sign, step] : signs)
      if (rest.starts_with(sign)) {
        rest.remove_prefix(sign.size());
        degree.alteration += step;
        found = true;
      }
  }
  const auto column = static_cast<int>(text.size() - rest.size()) + 1;
  const auto [end, status] = std::from_chars(rest.data(), rest.data() + rest.size(), degree.number);
  if (status != std::errc{} || end != rest.data() + rest.size() || degree.number < 1 ||
      degree.number > 13 || std::abs(degree.alteration) > 2)
    return TextError{"expected a degree from 1 to 13, as in b3 or #11", column};
  return degree;
}

Note note_at(Note root, Degree degree) {
  const int letter = (static_cast<int>(root.letter) + degree.number - 1) % 7;
  Note note{static_cast<Letter>(letter), 0};
  const int wanted = wrapped(pitch_class(root) + half_steps(degree));
  note.accidental = wrapped(wanted - pitch_class(note.letter) + 6) - 6;
  return note;
}

Degree degree_between(Note root, Note note) {
  const int number = (static_cast<int>(note.letter) - static_cast<int>(root.letter) + 7) % 7 + 1;
  const int distance = pitch_class(note) - pitch_class(root);
  return {number, wrapped(distance - half_steps({number, 0}) + 6) - 6};
}

Degree usual_degree(int half_steps_above_root) {
  constexpr std::array<Degree, 12> usual{{{1, 0},
                                          {2, -1},
                                          {2, 0},
                                          {3, -1},
                                          {3, 0},
                                          {4, 0},
                                          {5, -1},
                                          {5, 0},
                                          {6, -1},
                                          {6, 0},
                                          {7, -1},
                                          {7, 0}}};
  return usual[static_cast<std::size_t>(wrapped(half_steps_above_root))];
}

std::vector<Note> notes_at(Note root, const std::vector<Degree>& degrees) {
  std::vector<Note> notes;
  notes.reserve(degrees.size());
  for (const auto degree : degrees)
    notes.push_back(note_at(root, degree));
  return notes;
}

} // namespace landfall::theory
