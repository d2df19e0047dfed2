#pragma once

#include "theory/result.hpp"

#include <compare>
#include <cstdint>
#include <string>
#include <string_view>

namespace landfall::theory {

enum class Letter : std::uint8_t { c, d, e, f, g, a, b };

/// A spelled note without octave: Eb and D# differ.
struct Note {
  Letter letter = Letter::c;
  int accidental = 0; ///< Half steps: flats below 0, sharps above. Spelling here stays in [-3, 3].

  constexpr auto operator<=>(const Note&) const = default;
};

/// Half steps above C, in [0, 11].
int pitch_class(Note note);

/// Half steps of the plain letter above C: 0 2 4 5 7 9 11.
int pitch_class(Letter letter);

/// `Eb`, `F#`, `Bbb`, `G##`.
std::string ascii(Note note);

/// Reads a letter in either case and then any of b # x ♭ ♯ 𝄫 𝄪 from the front of `text`, and
/// moves `text` past it. An error leaves `text` as it was; its column counts from the front.
Result<Note> take_note(std::string_view& text);

/// Reads all of `text` as a note.
Result<Note> parse_note(std::string_view text);

/// The simplest spelling of a pitch class: at most one accidental, flats or sharps as asked.
Note plain_note(int pitch_class, bool flats);

/// The same sound, spelled with at most one accidental; unchanged if it has that already.
Note simplified(Note note);

/// A MIDI note number: 60 is middle C.
struct MidiNote {
  int number = 60;

  constexpr auto operator<=>(const MidiNote&) const = default;
};

constexpr MidiNote operator+(MidiNote note, int half_steps) {
  return {note.number + half_steps};
}
constexpr int operator-(MidiNote a, MidiNote b) {
  return a.number - b.number;
}
constexpr int pitch_class(MidiNote note) {
  return ((note.number % 12) + 12) % 12;
}

/// A note with its octave, as tunings are written: `E2` is 40, `C4` is 60.
Result<MidiNote> parse_midi_note(std::string_view text);

/// `E2`, `Bb3`: with the flats or sharps asked for.
std::string ascii(MidiNote note, bool flats = false);

/// How far the spelled `note` lies above the octave of C that holds it: B# in octave 3 is 60.
MidiNote midi_of(Note note, int octave);

} // namespace landfall::theory
