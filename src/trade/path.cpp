#include "trade/path.hpp"

#include "neck/tones.hpp"

#include <algorithm>
#include <cstdlib>

namespace landfall::trade {
namespace {

using neck::Instrument;

constexpr neck::PitchClasses every_pitch = 0xfff;

/// Which finger plays a fret with the hand at `low`; reaches are the outer fingers'.
int finger_for(const Instrument& instrument, int low, int fret) {
  if (fret == 0)
    return -1;
  const int first = std::max(low, 1);
  return std::clamp((fret - first) * 4 / std::max(instrument.hand, 4), 0, 3);
}

Spot spot_of(const neck::NeckNote& note, const neck::NeckView& view, const Instrument& instrument,
             neck::PitchClasses tones) {
  Spot spot;
  spot.midi = note.midi;
  if (note.fret) {
    spot.string = note.string;
    spot.fret = note.fret;
    spot.finger = finger_for(instrument, view.hand.low, *note.fret);
  }
  spot.reach = note.reach;
  spot.in_set = note.in_set;
  spot.landing = note.role == neck::Role::landing;
  spot.tone = neck::has(tones, note.midi.number);
  spot.guide = note.guide;
  return spot;
}

std::vector<Spot> chromatic_frets(const neck::Setting& setting, int low, neck::PitchClasses tones) {
  const neck::Fretboard board(*setting.instrument);
  std::vector<Spot> spots;
  for (const auto& place : neck::places(board, every_pitch, tones, low)) {
    Spot spot;
    spot.midi = {place.pitch};
    spot.string = board.number(place.string);
    spot.fret = place.fret;
    spot.finger = finger_for(*setting.instrument, low, place.fret);
    spot.reach = place.reach;
    spots.push_back(spot);
  }
  return spots;
}

std::vector<Spot> chromatic_keys(const Instrument& keyboard, const neck::Position& home) {
  std::vector<Spot> spots;
  const int first = std::max(home.low - keyboard.reach, keyboard.lowest.number);
  const int last = std::min(home.high + keyboard.reach, keyboard.highest.number);
  for (int key = first; key <= last; ++key) {
    Spot spot;
    spot.midi = {key};
    spot.reach = key < home.low || key > home.high;
    spots.push_back(spot);
  }
  return spots;
}

/// Without a chord the tonic chord's tones are what one lands on; failing them, the set.
void mark_landings(std::vector<Spot>& spots, theory::Key key) {
  const auto tones = neck::pitch_classes(theory::tonic_chord(key));
  const bool some = std::any_of(spots.begin(), spots.end(), [&](const Spot& spot) {
    return neck::has(tones, spot.midi.number);
  });
  for (auto& spot : spots)
    spot.landing = spot.tone = !some || neck::has(tones, spot.midi.number);
}

void sort_rising(std::vector<Spot>& spots) {
  std::stable_sort(spots.begin(), spots.end(),
                   [](const Spot& a, const Spot& b) { return a.midi < b.midi; });
}

int strings_apart(const Spot& a, const Spot& b) {
  return a.string && b.string ? std::abs(*a.string - *b.string) : 0;
}

bool slides(const Spot& a, const Spot& b) {
  return a.fret && b.fret && a.finger >= 0 && a.finger == b.finger && *a.fret != *b.fret;
}

/// The same finger on another string at the same fret: it rolls or jumps.
bool crosses(const Spot& a, const Spot& b) {
  return a.fret && b.fret && a.finger >= 0 && a.finger == b.finger && *a.fret == *b.fret &&
         a.string != b.string;
}

} // namespace

Ground ground_under(const neck::Setting& setting, const std::optional<theory::Chord>& chord) {
  const auto view = neck::view(setting, chord, {.groups = false, .grips = false});
  const auto tones = chord ? neck::pitch_classes(*chord) : neck::PitchClasses{0};
  Ground ground;
  for (const auto& note : view.notes)
    if (note.in_set || note.role == neck::Role::landing)
      ground.notes.push_back(spot_of(note, view, *setting.instrument, tones));
  if (!chord)
    mark_landings(ground.notes, setting.key);
  ground.all = setting.instrument->kind == Instrument::Kind::keyboard
                   ? chromatic_keys(*setting.instrument, setting.home)
                   : chromatic_frets(setting, view.hand.low, tones);
  sort_rising(ground.notes);
  sort_rising(ground.all);
  return ground;
}

double effort(const Spot& from, const Spot& to) {
  constexpr double apart[] = {0.0, 0.1, 0.5, 1.0, 1.6};
  double sum = apart[static_cast<std::size_t>(std::min(strings_apart(from, to), 4))];
  if (to.reach)
    sum += 0.35;
  if (slides(from, to))
    sum += 0.8 * std::abs(*from.fret - *to.fret);
  if (crosses(from, to))
    sum += strings_apart(from, to) == 1 ? 0.25 : 0.6;
  if (from.fret && to.fret && *from.fret > 0 && *to.fret > 0 && std::abs(*from.fret - *to.fret) > 4)
    sum += 0.6;
  return sum;
}

Nanoseconds quickest(const Spot& from, const Spot& to) {
  using std::chrono::milliseconds;
  if (!from.fret || !to.fret)
    return milliseconds{65} + milliseconds{4} * std::max(std::abs(from.midi - to.midi) - 7, 0);
  return milliseconds{70} + milliseconds{25} * std::max(strings_apart(from, to) - 1, 0) +
         milliseconds{slides(from, to) ? 60 : 0} + milliseconds{crosses(from, to) ? 40 : 0};
}

} // namespace landfall::trade
