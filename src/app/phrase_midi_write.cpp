#include "app/chunks.hpp"
#include "app/phrase_midi.hpp"
#include "midi/message.hpp"

#include <algorithm>
#include <cmath>

namespace landfall::app {
namespace {

namespace smf = midi::smf;

constexpr int plain_channel = 0, bent_channel = 1;
constexpr int wheel_steps = 8;
constexpr double wheel_span = 8192.0;
constexpr int usual_range = 12; ///< Half steps that a whole turn of the wheel bends.

/// Whole bars before the first bar line, so that no note begins before the file.
Ticks lead_in(const trade::Phrase& phrase) {
  const auto bar = song::bar_length(phrase.meter);
  const auto first = phrase.notes.empty() ? Ticks{} : phrase.notes.front().start;
  return first < Ticks{} ? bar * -floor_div(first, bar) : Ticks{};
}

smf::Track head_of(const trade::KeptPhrase& kept, Tempo tempo, Ticks lead) {
  const auto& phrase = kept.phrase;
  smf::Track track;
  track.add({}, smf::Text{smf::TextKind::track_name, kept.name});
  track.add({}, tempo);
  track.add({}, smf::Metre{phrase.meter.beats, phrase.meter.unit});
  track.add({},
            smf::KeySignature{std::clamp(theory::signature(theory::usual_key(phrase.key)), -7, 7),
                              phrase.key.minor});
  for (const auto& chord : phrase.chords)
    track.add(lead + chord.at, smf::Text{smf::TextKind::marker,
                                         chord.chord ? ascii(*chord.chord) : std::string("N.C.")});
  track.end = lead + phrase.length;
  return track;
}

int range_of(const trade::Phrase& phrase) {
  double most = 0.0;
  for (const auto& note : phrase.notes)
    most = std::max(most, std::abs(note.bend_cents.value_or(0.0)));
  return std::clamp(static_cast<int>(std::ceil(most / 100.0)), usual_range, 127);
}

void set_range(smf::Track& track, int half_steps) {
  using namespace midi::controller;
  for (const auto& [number, value] :
       {std::pair(rpn, 0), {rpn_fine, 0}, {data_entry, half_steps}, {data_entry_fine, 0}})
    track.add({}, midi::control(bent_channel, number, value));
}

/// Up to the pitch over the first half of the note, an eighth at most.
void bend(smf::Track& track, Ticks at, const trade::PhraseNote& note, int range) {
  const auto rise = std::min(Ticks{note.length.count / 2}, eighth);
  const double whole = *note.bend_cents / (range * 100.0) * wheel_span;
  for (int step = 0; step <= wheel_steps; ++step)
    track.add(at + Ticks{rise.count * step / wheel_steps},
              midi::bend(bent_channel, static_cast<int>(std::lround(whole * step / wheel_steps))));
}

smf::Track notes_of(const trade::Phrase& phrase, Ticks lead) {
  smf::Track track;
  track.add({}, smf::Text{smf::TextKind::track_name, "phrase"});
  track.add({}, midi::program(plain_channel, call_program));
  const int range = range_of(phrase);
  if (std::ranges::any_of(phrase.notes,
                          [](const auto& note) { return note.bend_cents.has_value(); })) {
    track.add({}, midi::program(bent_channel, call_program));
    set_range(track, range);
  }
  for (const auto& note : phrase.notes) {
    const auto at = lead + note.start;
    if (note.bend_cents)
      bend(track, at, note, range);
    track.add_note(at, note.length, note.bend_cents ? bent_channel : plain_channel,
                   note.midi.number, note.velocity);
  }
  track.end = lead + phrase.length;
  track.sort();
  return track;
}

} // namespace

smf::File midi_of(const trade::KeptPhrase& kept, Tempo tempo) {
  const auto lead = lead_in(kept.phrase);
  return {{head_of(kept, tempo, lead), notes_of(kept.phrase, lead)}};
}

} // namespace landfall::app
