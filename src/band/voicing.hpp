#pragma once

#include "band/feel.hpp"
#include "theory/key.hpp"

namespace landfall::band {

/// The register of comping: C3 to C5.
inline constexpr theory::MidiNote lowest_comping{48};
inline constexpr theory::MidiNote highest_comping{72};

/// What comping may sound over a chord, most telling first, as half steps above C in [0, 11]:
/// guide tones, altered fifth, upper tones as written, tones added by the colour, fifth, root.
/// Tones are added only where the key has them and the symbol does not alter their degree.
std::vector<int> comping_tones(const theory::Chord& chord, theory::Key key, Colour colour);

/// Notes sounding together, rising.
using Voicing = std::vector<theory::MidiNote>;

/// What a voicing is chosen by.
struct VoicingWish {
  Colour colour = Colour::plain;
  Hands hands = Hands::keys;
  int voices = 4;
  theory::MidiNote top{67}; ///< Where the upper voice would like to be.
};

/// The voicing that moves least from `before` (empty: none) and sounds clear. In register; holds
/// the chord's guide tones.
Voicing voiced(const theory::Chord& chord, theory::Key key, const VoicingWish& wish,
               const Voicing& before);

/// Half steps that the voices move in all: sorted voices paired if equally many, else each to the
/// nearest.
int motion(const Voicing& from, const Voicing& to);

} // namespace landfall::band
