#include "neck/wording.hpp"

#include <algorithm>
#include <array>
#include <cstdlib>

namespace landfall::neck {
namespace {

std::string place_text(const Setting& setting, const NeckView& view) {
  if (setting.instrument->kind == Instrument::Kind::keyboard)
    return "from " + ascii(theory::MidiNote{view.hand.low}) + " to " +
           ascii(theory::MidiNote{view.hand.high});
  std::string text = view.hand.low == 0 ? "open position, frets " : "frets ";
  text += std::to_string(view.hand.low) + " to " + std::to_string(view.hand.high);
  if (view.home.shape)
    text += ", " + ascii(tonic_chord(setting.key)) + " as " + with_article(view.home.shape->name);
  return text;
}

std::string sign_words(int accidental) {
  if (accidental == 0)
    return "";
  const std::string sign = accidental < 0 ? "flat" : "sharp";
  return std::abs(accidental) == 1 ? sign : "double " + sign;
}

} // namespace

std::string with_article(char shape) {
  return std::string(shape == 'A' || shape == 'E' ? "an " : "a ") + shape + " shape";
}

std::vector<std::string> headings(const Setting& setting, const std::optional<theory::Chord>& chord,
                                  const NeckView& view) {
  std::vector<std::string> lines;
  lines.push_back((chord ? ascii(*chord) : std::string("No chord")) + " in " + ascii(setting.key) +
                  ": " + place_text(setting, view));
  if (view.chord_shape)
    lines.push_back(ascii(*chord) + " here: " + with_article(view.chord_shape->name) + ", nut at " +
                    std::to_string(view.chord_shape->nut));
  lines.push_back("Notes: " + setting.set.name + " over the " +
                  (setting.over == theory::Over::key ? "key" : "chord"));
  if (setting.instrument->capo > 0)
    lines.push_back("Capo at " + std::to_string(setting.instrument->capo) +
                    "; frets count from it");
  return lines;
}

std::string spoken(theory::Note note) {
  const auto letter = ascii(theory::Note{note.letter, 0});
  return note.accidental == 0 ? letter : letter + " " + sign_words(note.accidental);
}

std::string spoken(theory::Degree degree) {
  constexpr std::array<const char*, 13> numbers{
      "root",   "second", "third", "fourth",   "fifth",   "sixth",     "seventh",
      "octave", "ninth",  "tenth", "eleventh", "twelfth", "thirteenth"};
  const auto number = static_cast<std::size_t>(std::clamp(degree.number, 1, 13) - 1);
  const std::string word = numbers[number];
  return degree.alteration == 0 ? word : sign_words(degree.alteration) + " " + word;
}

std::string frets_text(const Grip& grip) {
  std::string text;
  for (const auto& fret : grip.frets)
    text += (text.empty() ? "" : " ") + (fret ? std::to_string(*fret) : std::string("x"));
  return text;
}

std::string frets_text(const Group& group) {
  std::string text;
  for (const int fret : group.frets)
    text += (text.empty() ? "" : " ") + std::to_string(fret);
  return text;
}

FretRange shown_frets(const Fretboard& board, const NeckView& view) {
  const auto under = board.under(view.hand.low);
  FretRange shown = under.hand;
  if (under.below.last >= under.below.first)
    shown.first = under.below.first;
  shown.last = std::max(shown.last, under.above.last);
  return shown;
}

} // namespace landfall::neck
