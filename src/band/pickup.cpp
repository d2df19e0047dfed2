#include "band/pickup.hpp"

#include "band/chorus.hpp"
#include "band/voicing.hpp"
#include "band/walk.hpp"

#include <algorithm>

namespace landfall::band {
namespace {

constexpr double pickup_intensity = 0.6;
constexpr theory::MidiNote highest_pickup_bass{45};

/// A chord of the pick-up and how long it is held.
struct Held {
  Ticks from;
  Ticks to;
  const theory::Chord* chord; ///< None is N.C.
  theory::Key key;
};

std::vector<Held> held_chords(const song::Form& form) {
  std::vector<Held> held;
  for (const auto& bar : form.pickup)
    for (const auto& entry : bar.chords) {
      if (!entry.written)
        continue;
      const auto at = bar.start + entry.at;
      if (!held.empty())
        held.back().to = at;
      held.push_back({at, Ticks{0}, entry.chord ? &*entry.chord : nullptr, bar.key});
    }
  std::erase_if(held,
                [](const Held& each) { return each.chord == nullptr || each.to <= each.from; });
  return held;
}

theory::MidiNote bass_note(const theory::Chord& chord) {
  const int tone = theory::pitch_class(chord.bass ? *chord.bass : chord.root);
  int note = lowest_bass.number;
  while (note % 12 != tone)
    ++note;
  return {note + 12 <= highest_pickup_bass.number && note < 33 ? note + 12 : note};
}

} // namespace

std::vector<Event> plan_pickup(const song::Form& form, const Feel& feel) {
  std::vector<Event> events;
  Voicing voicing;
  const VoicingWish wish{feel.colour, feel.hands, feel.voices, {67}};
  const int comping = velocity_of('o', feel.mix.comping, pickup_intensity);
  for (const auto& [from, to, chord, key] : held_chords(form)) {
    events.push_back({from, to - from, Part::bass, bass_note(*chord),
                      velocity_of('x', feel.mix.bass, pickup_intensity)});
    voicing = voiced(*chord, key, wish, voicing);
    for (const auto note : voicing)
      events.push_back({from, to - from, Part::comping, note, comping});
  }
  return events;
}

} // namespace landfall::band
