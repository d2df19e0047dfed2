#include "theory/note.hpp"

#include <array>
#include <cctype>

namespace landfall::theory {
namespace {

struct Sign {
  std::string_view text;
  int half_steps;
};
// Longer signs first. The double signs are outside the basic plane and seldom in charts.
constexpr std::array<Sign, 8> signs{
    {{"𝄫", -2}, {"𝄪", 2}, {"♭", -1}, {"♯", 1}, {"♮", 0}, {"b", -1}, {"#", 1}, {"x", 2}}};

std::optional<Letter> letter_of(char c) {
  constexpr std::string_view names = "CDEFGAB";
  const auto at = names.find(static_cast<char>(std::toupper(static_cast<unsigned char>(c))));
  return at == std::string_view::npos ? std::nullopt : std::optional(static_cast<Letter>(at));
}

bool take_sign(std::string_view& text, int& accidental) {
  for (const auto& sign : signs)
    if (text.starts_with(sign.text)) {
      text.remove_prefix(sign.text.size());
      accidental += sign.half_steps;
      return true;
    }
  return false;
}

} // namespace

int pitch_class(Letter letter) {
  constexpr std::array<int, 7> steps{0, 2, 4, 5, 7, 9, 11};
  return steps[static_cast<std::size_t>(letter)];
}

int pitch_class(Note note) {
  return ((pitch_class(note.letter) + note.accidental) % 12 + 12) % 12;
}

std::string ascii(Note note) {
  std::string text(1, "CDEFGAB"[static_cast<std::size_t>(note.letter)]);
  const char sign = note.accidental < 0 ? 'b' : '#';
  return text.append(static_cast<std::size_t>(std::abs(note.accidental)), sign);
}

Result<Note> take_note(std::string_view& text) {
  const auto letter = text.empty() ? std::nullopt : letter_of(text.front());
  if (!letter)
    return TextError{"expected a note name from A to G", 1};
  auto rest = text.substr(1);
  Note note{*letter, 0};
  while (take_sign(rest, note.accidental)) {
  }
  if (std::abs(note.accidental) > 2)
    return TextError{"at most two accidentals, please", 2};
  text = rest;
  return note;
}

Result<Note> parse_note(std::string_view text) {
  auto rest = text;
  auto note = take_note(rest);
  if (note && !rest.empty())
    return TextError{"unexpected '" + std::string(rest) + "' after the note name",
                     static_cast<int>(text.size() - rest.size()) + 1};
  return note;
}

Note plain_note(int pitch_class, bool flats) {
  constexpr std::array<Letter, 12> sharp_letters{Letter::c, Letter::c, Letter::d, Letter::d,
                                                 Letter::e, Letter::f, Letter::f, Letter::g,
                                                 Letter::g, Letter::a, Letter::a, Letter::b};
  constexpr std::array<Letter, 12> flat_letters{Letter::c, Letter::d, Letter::d, Letter::e,
                                                Letter::e, Letter::f, Letter::g, Letter::g,
                                                Letter::a, Letter::a, Letter::b, Letter::b};
  const auto index = static_cast<std::size_t>((pitch_class % 12 + 12) % 12);
  const Letter letter = flats ? flat_letters[index] : sharp_letters[index];
  return {letter, static_cast<int>(index) - landfall::theory::pitch_class(letter)};
}

Note simplified(Note note) {
  if (std::abs(note.accidental) <= 1)
    return note;
  return plain_note(pitch_class(note), note.accidental < 0);
}

Result<MidiNote> parse_midi_note(std::string_view text) {
  auto rest = text;
  const auto note = take_note(rest);
  if (!note)
    return note.error();
  const int column = static_cast<int>(text.size() - rest.size()) + 1;
  const bool below = rest.starts_with('-');
  if (below)
    rest.remove_prefix(1);
  if (rest.size() != 1 || std::isdigit(static_cast<unsigned char>(rest.front())) == 0)
    return TextError{"expected an octave number after the note name, as in E2", column};
  const int octave = rest.front() - '0';
  const auto midi = midi_of(*note, below ? -octave : octave);
  if (midi.number < 0 || midi.number > 127)
    return TextError{"the note lies outside MIDI's range of C-1 to G9", 1};
  return midi;
}

std::string ascii(MidiNote note, bool flats) {
  const auto name = ascii(plain_note(pitch_class(note), flats));
  return name + std::to_string(note.number / 12 - 1);
}

MidiNote midi_of(Note note, int octave) {
  return {12 * (octave + 1) + pitch_class(note.letter) + note.accidental};
}

} // namespace landfall::theory
