#pragma once

#include "neck/view.hpp"
#include "theory/scale.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

namespace landfall::neck {

inline theory::Key key_of(const char* text) {
  return theory::parse_key(text).value();
}
inline theory::Chord chord_of(const std::string& text) {
  return theory::parse_chord(text).value();
}
inline theory::NoteSet set_of(const char* text) {
  return theory::parse_note_set(text).value();
}

inline Instrument tuned(const char* tuning) {
  auto guitar = standard_guitar();
  guitar.name = tuning;
  return retuned(guitar, parse_tuning(tuning).value());
}

/// Linear and reentrant tunings of four to eight strings.
inline std::vector<Instrument> many_instruments() {
  std::vector<Instrument> all{standard_guitar(),
                              tuned("D2 A2 D3 G3 B3 E4"),
                              tuned("D2 G2 D3 G3 B3 D4"),
                              tuned("D2 A2 D3 F#3 A3 D4"),
                              tuned("D2 A2 D3 G3 A3 D4"),
                              tuned("B1 E2 A2 D3 G3 B3 E4"),
                              tuned("F#1 B1 E2 A2 D3 G3 B3 E4"),
                              tuned("B1 E2 A2 D3 F#3 B3"),
                              tuned("E1 A1 D2 G2"),
                              tuned("G4 C4 E4 A4"),
                              tuned("G3 D4 A4 E5"),
                              tuned("G4 D3 G3 B3 D4")};
  all[8].hand = 3;
  all[10].hand = 6;
  all[11].strings[0].first_fret = 5;
  all.push_back(standard_guitar());
  all.back().name = "capo 3";
  all.back().capo = 3;
  return all;
}

/// The places of a fretted view as text, from string 6: `10 12 | 9r 12`; r for reach.
inline std::string places_text(const NeckView& view, int strings = 6) {
  std::string text;
  for (int string = strings; string >= 1; --string) {
    text += string == strings ? "" : "| ";
    for (const auto& note : view.notes)
      if (note.string == string)
        text += std::to_string(*note.fret) + (note.reach ? "r " : " ");
  }
  if (!text.empty())
    text.pop_back();
  return text;
}

/// Everything that a view asks for, by name.
struct Asked {
  Instrument instrument = standard_guitar();
  const char* key = "A";
  PlaceRequest place{};
  const char* set = "arpeggio";
  std::optional<theory::Over> over{};

  Setting setting() const {
    Setting s;
    s.instrument = &instrument;
    s.key = key_of(key);
    s.home = find_position(instrument, s.key, place).value();
    s.set = set_of(set);
    s.over = over.value_or(usual_over(s.set));
    return s;
  }
  NeckView view(const std::string& chord, ViewOptions options = {}) const {
    return neck::view(setting(), chord_of(chord), options);
  }
};

} // namespace landfall::neck
