#include "neck/instrument.hpp"

namespace landfall::neck {
namespace {

constexpr std::string_view blanks = " \t\r";

} // namespace

Instrument standard_guitar() {
  Instrument guitar;
  guitar.name = "guitar";
  for (const int open : {40, 45, 50, 55, 59, 64})
    guitar.strings.push_back({theory::MidiNote{open}, 0});
  return guitar;
}

Instrument standard_keyboard() {
  Instrument keyboard;
  keyboard.name = "keyboard";
  keyboard.kind = Instrument::Kind::keyboard;
  keyboard.frets = 0;
  keyboard.hand = 16;
  keyboard.reach = 0;
  return keyboard;
}

Result<std::vector<theory::MidiNote>> parse_tuning(std::string_view text) {
  std::vector<theory::MidiNote> tuning;
  for (auto at = text.find_first_not_of(blanks); at != std::string_view::npos;
       at = text.find_first_not_of(blanks, at)) {
    const auto end = std::min(text.find_first_of(blanks, at), text.size());
    const auto note = theory::parse_midi_note(text.substr(at, end - at));
    const int column = static_cast<int>(at);
    if (!note)
      return TextError{note.error().reason, column + note.error().column};
    if (tuning.size() == max_strings)
      return TextError{"more than " + std::to_string(max_strings) + " strings", column + 1};
    tuning.push_back(*note);
    at = end;
  }
  if (tuning.empty())
    return TextError{"expected the notes of the strings, low string first, as in E2 A2 D3 G3 B3 E4",
                     1};
  return tuning;
}

std::string tuning_text(const Instrument& instrument) {
  std::string text;
  for (const auto& string : instrument.strings)
    text += (text.empty() ? "" : " ") + ascii(string.open);
  return text;
}

Instrument retuned(Instrument instrument, const std::vector<theory::MidiNote>& tuning) {
  if (instrument.strings.size() != tuning.size())
    instrument.strings.assign(tuning.size(), String{});
  for (std::size_t i = 0; i < tuning.size(); ++i)
    instrument.strings[i].open = tuning[i];
  return instrument;
}

} // namespace landfall::neck
