#include "app/phrase_musicxml.hpp"

#include "app/sheet_rhythm.hpp"
#include "song/musicxml_nodes.hpp"
#include "song/song.hpp"

#include <algorithm>
#include <cmath>

namespace landfall::app {
namespace {

using song::append_number;
using song::append_text;

constexpr int octave_clef_below = 60, bass_clef_below = 48; ///< Mean pitches.

const char* type_name(int part) {
  switch (part) {
  case 1:
    return "whole";
  case 2:
    return "half";
  case 4:
    return "quarter";
  case 8:
    return "eighth";
  case 16:
    return "16th";
  default:
    return "32nd";
  }
}

class PhraseWriter {
public:
  PhraseWriter(const trade::KeptPhrase& kept, const std::vector<sheet::Stop>& stops, Tempo tempo)
      : phrase_(kept.phrase), stops_(stops), tempo_(tempo),
        part_(song::append_score(document_, kept.name, "Phrase")),
        bars_(sheet::written_bars(phrase_)) {}

  std::string run() {
    for (const auto& bar : bars_)
      write(bar);
    return song::text_of(document_);
  }

private:
  void write(const sheet::TabBar& bar) {
    auto measure = song::append_measure(part_, bar.number);
    if (&bar == &bars_.front())
      write_head(measure);
    for (std::size_t i = 0; i < bar.beats.size(); ++i) {
      const auto& beat = bar.beats[i];
      for (const auto& chord : phrase_.chords)
        if (chord.at >= beat.at && chord.at < beat.at + ticks_of(beat.value))
          song::append_harmony(measure, chord.chord, chord.at - beat.at);
      if (beat.notes.empty())
        write_rest(measure, beat);
      for (const auto index : beat.notes)
        write_note(measure, beat, index, goes_on(bar, i));
    }
  }

  void write_head(pugi::xml_node measure) const {
    auto attributes = song::append_attributes(measure, {true, phrase_.key, phrase_.meter});
    auto clef = attributes.append_child("clef");
    int sum = 0;
    for (const auto& note : phrase_.notes)
      sum += note.midi.number;
    const int mean = sum / static_cast<int>(phrase_.notes.size());
    append_text(clef, "sign", mean < bass_clef_below ? "F" : "G");
    append_number(clef, "line", mean < bass_clef_below ? 4 : 2);
    if (mean >= bass_clef_below && mean < octave_clef_below)
      append_number(clef, "clef-octave-change", -1);
    auto direction = measure.append_child("direction");
    auto metronome = direction.append_child("direction-type").append_child("metronome");
    const double beats = std::round(song::beats_per_minute(tempo_, {4, 4}) * 1000) / 1000;
    append_text(metronome, "beat-unit", "quarter");
    append_number(metronome, "per-minute", std::lround(beats));
    direction.append_child("sound").append_attribute("tempo").set_value(beats);
  }

  /// Whether the beat after this one is tied to it, in the next bar too.
  bool goes_on(const sheet::TabBar& bar, std::size_t i) const {
    if (i + 1 < bar.beats.size())
      return bar.beats[i + 1].tied;
    const auto* next = &bar + 1;
    return next != bars_.data() + bars_.size() && !next->beats.empty() && next->beats.front().tied;
  }

  static void write_value(pugi::xml_node note, const sheet::NoteValue& value) {
    append_number(note, "voice", 1);
    append_text(note, "type", type_name(value.part));
    for (int dot = 0; dot < value.dots; ++dot)
      note.append_child("dot");
    if (!value.triplet)
      return;
    auto ratio = note.append_child("time-modification");
    append_number(ratio, "actual-notes", 3);
    append_number(ratio, "normal-notes", 2);
  }

  static void write_duration(pugi::xml_node note, const sheet::Beat& beat) {
    append_number(note, "duration", ticks_of(beat.value).count / song::xml_division.count);
  }

  static void write_rest(pugi::xml_node measure, const sheet::Beat& beat) {
    auto note = measure.append_child("note");
    note.append_child("rest");
    write_duration(note, beat);
    write_value(note, beat.value);
  }

  theory::Note spelled(const trade::PhraseNote& note) const {
    const auto& chord = phrase_.chords[static_cast<std::size_t>(note.chord)].chord;
    const auto named = theory::note_at(chord ? chord->root : phrase_.key.tonic, note.degree);
    return pitch_class(named) == pitch_class(note.midi)
               ? theory::simplified(named)
               : theory::spelled_in(phrase_.key, pitch_class(note.midi));
  }

  void write_pitch(pugi::xml_node parent, const trade::PhraseNote& note) const {
    const auto name = spelled(note);
    auto pitch = parent.append_child("pitch");
    append_text(pitch, "step", ascii(theory::Note{name.letter, 0}));
    if (name.accidental != 0)
      append_number(pitch, "alter", name.accidental);
    append_number(pitch, "octave", (note.midi.number - name.accidental) / 12 - 1);
  }

  void write_note(pugi::xml_node measure, const sheet::Beat& beat, std::size_t index,
                  bool goes_on) const {
    const auto& note = phrase_.notes[index];
    auto node = measure.append_child("note");
    if (index != beat.notes.front())
      node.append_child("chord");
    write_pitch(node, note);
    write_duration(node, beat);
    for (const auto& [type, there] : {std::pair("stop", beat.tied), std::pair("start", goes_on)})
      if (there)
        node.append_child("tie").append_attribute("type").set_value(type);
    write_value(node, beat.value);
    auto notations = node.append_child("notations");
    for (const auto& [type, there] : {std::pair("stop", beat.tied), std::pair("start", goes_on)})
      if (there)
        notations.append_child("tied").append_attribute("type").set_value(type);
    if (!beat.tied)
      write_technical(notations, note, index);
    if (!notations.first_child())
      node.remove_child(notations);
  }

  void write_technical(pugi::xml_node notations, const trade::PhraseNote& note,
                       std::size_t index) const {
    if (stops_.empty() && !note.bend_cents)
      return;
    auto technical = notations.append_child("technical");
    if (!stops_.empty()) {
      append_number(technical, "string", stops_[index].string);
      append_number(technical, "fret", stops_[index].fret);
    }
    if (note.bend_cents)
      technical.append_child("bend").append_child("bend-alter").text().set(*note.bend_cents / 100);
  }

  const trade::Phrase& phrase_;
  const std::vector<sheet::Stop>& stops_;
  Tempo tempo_;
  pugi::xml_document document_;
  pugi::xml_node part_;
  std::vector<sheet::TabBar> bars_;
};

} // namespace

std::string musicxml_of(const trade::KeptPhrase& kept, const std::vector<sheet::Stop>& stops,
                        Tempo tempo) {
  return PhraseWriter(kept, stops, tempo).run();
}

} // namespace landfall::app
