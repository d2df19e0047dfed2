#include "song/key_guess.hpp"

#include <algorithm>

namespace landfall::song {

namespace {

using theory::Chord;
using theory::Key;

bool in_scale(Key key, int pitch_class, bool raised_seventh) {
  const int above = (pitch_class - theory::pitch_class(key.tonic) + 12) % 12;
  if (raised_seventh && key.minor && above == 11)
    return true;
  return std::ranges::any_of(theory::degrees(key), [&](theory::Degree degree) {
    return theory::pitch_class(degree) == above;
  });
}

/// The share of the chord's tones that the key holds. The leading tone counts in a minor key's
/// dominant, and the blue seventh on the one and the four of a major key.
double fit(Key key, const Chord& chord) {
  const int above = (pitch_class(chord.root) - pitch_class(key.tonic) + 12) % 12;
  const bool blue = !key.minor && (above == 0 || above == 5) &&
                    theory::quality(chord) == theory::Quality::dominant;
  const auto tones = theory::notes(chord);
  const auto inside = std::ranges::count_if(tones, [&](theory::Note note) {
    const int in_chord = (pitch_class(note) - pitch_class(chord.root) + 12) % 12;
    return in_scale(key, pitch_class(note), above == 7 || above == 11) || (blue && in_chord == 10);
  });
  return static_cast<double>(inside) / static_cast<double>(tones.size());
}

bool is_tonic(Key key, const Chord& chord) {
  return pitch_class(chord.root) == pitch_class(key.tonic) && is_minor(chord) == key.minor;
}

/// Whether a dominant, or a major triad, leads home to the tonic.
bool cadence(Key key, const Chord& before, const Chord& chord) {
  const int fall = (pitch_class(before.root) - pitch_class(chord.root) + 12) % 12;
  return fall == 7 && !is_minor(before) && is_tonic(key, chord) &&
         theory::quality(chord) != theory::Quality::dominant;
}

double score(Key key, std::span<const Chord> chords) {
  double sum = 0;
  double cadences = 0;
  for (std::size_t i = 0; i < chords.size(); ++i) {
    sum += fit(key, chords[i]);
    if (i > 0 && cadence(key, chords[i - 1], chords[i]))
      cadences = std::min(cadences + 0.2, 0.3);
  }
  const double ends =
      (is_tonic(key, chords.front()) ? 0.2 : 0) + (is_tonic(key, chords.back()) ? 0.15 : 0);
  return sum / static_cast<double>(chords.size()) + ends + cadences;
}

} // namespace

Key likely_key(std::span<const Chord> chords) {
  Key best;
  double best_score = -1;
  for (const Chord& chord :
       chords) { // a key is named like one of its chords' roots or fifths below
    if (&chord - chords.data() >= 32)
      break;
    for (const int half_steps : {0, 5}) {
      for (const bool minor : {false, true}) {
        const Key key = theory::transposed({chord.root, minor}, half_steps);
        const double value = score(key, chords.first(std::min<std::size_t>(chords.size(), 64)));
        if (value > best_score + 1e-9) {
          best = half_steps == 0 ? Key{chord.root, minor} : key;
          best_score = value;
        }
      }
    }
  }
  return best;
}

} // namespace landfall::song
