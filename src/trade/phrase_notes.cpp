#include "trade/phrase_notes.hpp"

#include "trade/phrase_value.hpp"

#include <algorithm>
#include <charconv>

namespace landfall::trade {
namespace {

constexpr std::size_t most_notes = 4096;

TextError wrong(const NamedField& line, std::string_view at, std::string reason) {
  return line.bad_value(std::move(reason), static_cast<std::size_t>(at.data() - line.value.data()));
}

bool is_rest(std::string_view pitch) {
  return pitch == "r";
}

/// The sound of this pitch class within a tritone of `near`, above it at the tritone.
theory::MidiNote nearest(theory::MidiNote near, int sound) {
  const int up = (sound - pitch_class(near) + 12) % 12;
  return near + (up > 6 ? up - 12 : up);
}

std::optional<int> take_number(std::string_view& text, int low, int high) {
  int number = 0;
  const auto [rest, status] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (status != std::errc{} || number < low || number > high)
    return std::nullopt;
  text.remove_prefix(static_cast<std::size_t>(rest - text.data()));
  return number;
}

/// A note as it is read: its own fields, and whether it is heard against the coming chord.
struct Reading {
  PhraseNote note;
  bool coming = false;
};

bool take_place(std::string_view& text, PhraseNote& note) {
  note.string = take_number(text, 1, 12);
  if (!note.string || !text.starts_with(':'))
    return false;
  text.remove_prefix(1);
  note.fret = take_number(text, 0, 36);
  return note.fret.has_value();
}

bool take_bend(std::string_view& text, PhraseNote& note) {
  const auto cents = take_number(text, -2400, 2400);
  if (cents)
    note.bend_cents = *cents;
  return cents.has_value();
}

bool take_velocity(std::string_view& text, PhraseNote& note) {
  const auto velocity = take_number(text, 1, 127);
  note.velocity = velocity.value_or(note.velocity);
  return velocity.has_value();
}

bool take_ring(std::string_view& text, PhraseNote& note) {
  const auto value = take_value(text);
  note.length = value ? *value : note.length;
  return value && *value > Ticks{};
}

/// One mark behind a note's value; false where it is none.
bool take_mark(std::string_view& text, Reading& reading) {
  const char mark = text.front();
  text.remove_prefix(1);
  switch (mark) {
  case '!':
    return reading.note.role = PhraseRole::landing, true;
  case '>':
    return reading.note.role = PhraseRole::approach, true;
  case '%':
    return reading.note.role = PhraseRole::enclosure, true;
  case '&':
    return reading.coming = true;
  case '^':
    return take_bend(text, reading.note);
  case '@':
    return take_place(text, reading.note);
  case '=':
    return take_velocity(text, reading.note);
  case '_':
    return take_ring(text, reading.note);
  default:
    return false;
  }
}

} // namespace

std::optional<TextError> PhraseNotes::take(const NamedField& line) {
  auto rest = line.value;
  while (!rest.empty()) {
    const auto end = std::min(rest.find_first_of(" \t"), rest.size());
    if (const auto sign = rest.substr(0, end); !sign.empty())
      if (auto error = take_sign(line, sign))
        return error;
    rest.remove_prefix(std::min(end + 1, rest.size()));
  }
  return std::nullopt;
}

std::optional<TextError> PhraseNotes::take_sign(const NamedField& line, std::string_view sign) {
  if (sign != "|")
    return take_note(line, sign);
  if (floor_mod(at_, song::bar_length(phrase_.meter)) != Ticks{})
    return wrong(line, sign, "the notes before this bar line do not fill their bar");
  return std::nullopt;
}

std::optional<TextError> PhraseNotes::take_pitch(const NamedField& line, std::string_view text,
                                                 PhraseNote& note) const {
  if (!text.empty() && text.front() >= 'A' && text.front() <= 'G') {
    const auto midi = theory::parse_midi_note(text);
    if (!midi)
      return wrong(line, text, midi.error().reason);
    note.midi = *midi;
    return std::nullopt;
  }
  const auto end = std::min(text.find_first_of("',"), text.size());
  const auto degree = theory::parse_degree(text.substr(0, end));
  if (!degree)
    return wrong(line, text, "expected a degree (b3), a note with its octave (Eb4), r or |");
  const auto& chord = phrase_.chords[static_cast<std::size_t>(note.chord)].chord;
  const auto root = chord ? chord->root : phrase_.key.tonic;
  note.midi = nearest(before_, (theory::pitch_class(root) + theory::pitch_class(*degree)) % 12);
  for (const char shift : text.substr(end)) {
    if (shift != '\'' && shift != ',')
      return wrong(line, text.substr(end), "expected ' or , for an octave up or down");
    note.midi = note.midi + (shift == '\'' ? 12 : -12);
  }
  return std::nullopt;
}

std::optional<TextError> PhraseNotes::take_note(const NamedField& line, std::string_view sign) {
  const auto slash = sign.find('/');
  if (slash == std::string_view::npos)
    return wrong(line, sign, "expected a note with its value, as in b3/8");
  const auto pitch = sign.substr(0, slash);
  auto rest = sign.substr(slash + 1);
  const auto step = take_value(rest);
  if (!step)
    return wrong(line, rest, step.error().reason);
  Reading reading;
  auto& note = reading.note;
  note.start = at_;
  note.length = *step;
  while (!rest.empty()) {
    const auto mark = rest;
    if (is_rest(pitch) || !take_mark(rest, reading))
      return wrong(line, mark, "expected ! > % & ^CENTS @STRING:FRET =VELOCITY or _VALUE");
  }
  if (at_ + *step > phrase_.length)
    return wrong(line, sign, "this lies beyond the last bar of `over`");
  at_ += *step;
  if (is_rest(pitch))
    return std::nullopt;
  if (note.length == Ticks{} || note.start >= phrase_.length || phrase_.notes.size() >= most_notes)
    return wrong(line, sign, "expected at most 4096 notes, each with a length, within the bars");
  const int last = static_cast<int>(phrase_.chords.size()) - 1;
  note.chord = std::min(last, chord_index(phrase_, note.start) + (reading.coming ? 1 : 0));
  if (auto error = take_pitch(line, pitch, note))
    return error;
  if (note.midi.number < 0 || note.midi.number > 127)
    return wrong(line, sign, "this note lies outside the notes of MIDI, C-1 to G9");
  before_ = note.midi;
  note.degree = degree_over(phrase_.chords[static_cast<std::size_t>(note.chord)].chord, phrase_.key,
                            note.midi);
  phrase_.notes.push_back(note);
  return std::nullopt;
}

} // namespace landfall::trade
