#include "app/words.hpp"

#include <algorithm>

namespace landfall::app {
namespace {

std::string letter(theory::Note note) {
  return ascii(theory::Note{note.letter, 0});
}

/// `maj7` is set as Δ7, `dim` as °, `m7b5` as ø, the way charts are engraved.
std::string engraved(std::string suffix) {
  const auto swap = [&](std::string_view plain, std::string_view sign) {
    if (suffix.starts_with(plain))
      suffix.replace(0, plain.size(), sign);
  };
  if (suffix == "m7b5")
    return "ø";
  swap("maj", "Δ");
  swap("dim", "°");
  return render::with_signs(suffix);
}

} // namespace

render::ChordText chord_text(const std::optional<theory::Chord>& chord) {
  render::ChordText text;
  if (!chord) {
    text.none = true;
    return text;
  }
  text.root = letter(chord->root);
  text.accidental = chord->root.accidental;
  text.quality = engraved(chord->suffix);
  if (chord->bass) {
    text.bass = letter(*chord->bass);
    text.bass_accidental = chord->bass->accidental;
  }
  return text;
}

std::string key_words(theory::Key key) {
  return render::with_signs(ascii(key.tonic)) + (key.minor ? " minor" : "");
}

std::string plain_place(const neck::Setting& setting) {
  const auto& home = setting.home;
  if (setting.instrument->kind == neck::Instrument::Kind::keyboard) {
    const bool flats = signature(setting.key) < 0;
    return ascii(theory::MidiNote{home.low}, flats) + " to " +
           ascii(theory::MidiNote{home.high}, flats);
  }
  const auto frets = home.low == 0
                         ? std::string("open position")
                         : "frets " + std::to_string(home.low) + " to " + std::to_string(home.high);
  return home.shape ? std::string(1, home.shape->name) + " shape, " + frets : frets;
}

std::string place_words(const neck::Setting& setting) {
  const auto& home = setting.home;
  if (setting.instrument->kind == neck::Instrument::Kind::keyboard) {
    const bool flats = signature(setting.key) < 0;
    return render::with_signs(ascii(theory::MidiNote{home.low}, flats)) + "–" +
           render::with_signs(ascii(theory::MidiNote{home.high}, flats));
  }
  const auto frets = home.low == 0
                         ? std::string("open position")
                         : "frets " + std::to_string(home.low) + "–" + std::to_string(home.high);
  return home.shape ? std::string(1, home.shape->name) + " shape · " + frets : frets;
}

std::string set_words(const neck::Setting& setting, const std::optional<theory::Chord>& chord) {
  auto name = setting.set.name;
  if (setting.set.kind == theory::NoteSet::Kind::fitting) {
    const auto& table = setting.fitting != nullptr ? *setting.fitting : theory::default_fitting();
    name = table.of(quality(chord.value_or(tonic_chord(setting.key)))).name;
  }
  return render::with_signs(name) +
         (setting.over == theory::Over::key ? " over the key" : " over the chord");
}

std::string target_words(const neck::Target& target) {
  if (target.all())
    return "";
  return target_text(target) + " only";
}

std::string feel_words(const std::string& feel) {
  auto words = feel;
  std::replace(words.begin(), words.end(), '-', ' ');
  return words;
}

std::string capital(std::string words) {
  if (!words.empty() && words.front() >= 'a' && words.front() <= 'z')
    words.front() = static_cast<char>(words.front() - 'a' + 'A');
  return words;
}

std::string bar_words(const song::Moment& moment) {
  return "bar " + std::to_string(moment.bar->number) + " of " +
         std::to_string(moment.stretch->form->bars.size());
}

} // namespace landfall::app
