#pragma once

#include "theory/chord.hpp"

namespace landfall::theory {

struct Key {
  Note tonic;
  bool minor = false;

  constexpr auto operator<=>(const Key&) const = default;
};

/// `A`, `F#`, `Ebm`. `A minor` and `A major` are read too.
Result<Key> parse_key(std::string_view text);

/// `Ebm`.
std::string ascii(Key key);

/// Sharps above 0, flats below, as in a key signature; theoretical keys lie beyond 7.
int signature(Key key);

/// The key's major scale, or natural minor.
const std::vector<Degree>& degrees(Key key);

/// The triad on the tonic.
Chord tonic_chord(Key key);

/// The key with its tonic spelled so that its signature has the fewest signs (F# and Gb stay).
Key usual_key(Key key);

/// `half_steps` higher, spelled as usual.
Key transposed(Key key, int half_steps);

/// The chord on the same degree of another key, double accidentals avoided in root and bass.
Chord transposed(const Chord& chord, Key from, Key to);

/// A sound spelled as the key has it; outside the key as a raised or lowered usual degree.
Note spelled_in(Key key, int pitch_class);

} // namespace landfall::theory
