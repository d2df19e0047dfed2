#include "theory/recognise.hpp"

#include <algorithm>
#include <array>
#include <bit>

namespace landfall::theory {
namespace {

using Classes = unsigned; ///< Bit n: pitch class n.

/// The usual ones first.
constexpr std::array suffixes{
    "",    "m",   "7",       "m7",   "maj7", "m7b5", "dim7",    "sus4",  "7sus4", "6",   "m6",
    "9",   "m9",  "maj9",    "dim",  "+",    "sus2", "add9",    "mMaj7", "7b9",   "7#9", "13",
    "7b5", "7#5", "maj7#11", "7#11", "6/9",  "m11",  "m(add9)", "maj13", "9sus4", "5"};

constexpr int most_found = 12;
constexpr int too_many = 100, too_few = 60, no_fifth = 8, inverted = 20, foreign = 4;

Classes classes_of(const Chord& chord) {
  Classes classes = 0;
  for (const auto& note : notes(chord))
    classes |= 1U << static_cast<unsigned>(pitch_class(note));
  return classes;
}

struct Candidate {
  int cost = 0;
  Chord chord;
};

bool may_lack_fifth(const Chord& chord, Classes missing) {
  const auto fifth = degree_numbered(chord, 5);
  return fifth && fifth->alteration == 0 && degree_numbered(chord, 7) &&
         missing == 1U << static_cast<unsigned>(pitch_class(note_at(chord.root, *fifth)));
}

int cost_of(const Chord& chord, Classes sounding) {
  const auto tones = classes_of(chord);
  const auto missing = tones & ~sounding, extra = sounding & ~tones;
  int cost = std::popcount(extra) * too_many;
  return cost + (may_lack_fifth(chord, missing) ? no_fifth : std::popcount(missing) * too_few);
}

} // namespace

std::vector<Chord> recognised_chords(std::span<const MidiNote> notes, Key key) {
  Classes sounding = 0;
  int lowest = 1000;
  for (const auto note : notes) {
    sounding |= 1U << static_cast<unsigned>(pitch_class(note));
    lowest = std::min(lowest, note.number);
  }
  if (std::popcount(sounding) < 2)
    return {};
  Classes scale = 0;
  for (const auto degree : degrees(key))
    scale |= 1U << static_cast<unsigned>(pitch_class(note_at(key.tonic, degree)));
  std::vector<Candidate> found;
  for (int root = 0; root < 12; ++root) {
    if ((sounding >> static_cast<unsigned>(root) & 1U) == 0)
      continue;
    const auto name = ascii(spelled_in(key, root));
    for (std::size_t i = 0; i < suffixes.size(); ++i) {
      auto chord = parse_chord(name + suffixes[i]);
      if (!chord)
        continue;
      int cost = cost_of(*chord, sounding) + static_cast<int>(i);
      cost += (scale >> static_cast<unsigned>(root) & 1U) != 0 ? 0 : foreign;
      if (lowest % 12 != root) {
        cost += inverted;
        chord->bass = spelled_in(key, lowest % 12);
      }
      if (cost < too_few)
        found.push_back({cost, std::move(*chord)});
    }
  }
  std::stable_sort(found.begin(), found.end(),
                   [](const Candidate& a, const Candidate& b) { return a.cost < b.cost; });
  std::vector<Chord> chords;
  for (auto& candidate : found)
    if (chords.size() < most_found)
      chords.push_back(std::move(candidate.chord));
  return chords;
}

} // namespace landfall::theory
