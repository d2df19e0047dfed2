#pragma once

#include "neck/fingering.hpp"
#include "neck/shape.hpp"

#include <string>
#include <vector>

namespace landfall::neck {

/// A way to hold a chord.
struct Grip {
  std::string name; ///< For people: `Am7 as an A shape`, `C7, root on string 6`.
  std::vector<std::optional<int>> frets; ///< Low string first; none where muted. Keyboard: MIDI.
  std::vector<int> finger;               ///< Of each string, 1 to 4; 0 for none.
  std::vector<Barre> barres;             ///< String indices, low string first.
  int fingers = 0;                       ///< How many are used, a barre counted as one.
  double cost = 0.0;                     ///< Rises with difficulty; for comparison only.

  bool operator==(const Grip&) const = default;
};

struct GripRequest {
  bool movable = false;    ///< No open strings.
  std::optional<int> hand; ///< Only frets within hand and reach of this one; else the whole neck.
  std::size_t most = 10;
};

/// Ways to hold a chord, best first: a fret or mute for each string, third and seventh (and what
/// stands for them) always, its altered tones and its highest extension too; the root or the
/// symbol's bass lowest (where four strings or a reentrant tuning leave no choice, that is only
/// preferred); at most four fingers, a barre counted as one, within four frets. At most six strings
/// sound, at most two between them are muted.
std::vector<Grip> grips(const Fretboard& board, const theory::Chord& chord,
                        const GripRequest& request);

/// The movable seventh-chord grips of a shape that stands on `root`: 7, maj7, m7, m7b5, dim7 and
/// mMaj7, in this order; those that no hand can take are left out.
std::vector<Grip> seventh_grips(const Fretboard& board, ChordShape shape, theory::Note root);

/// A row as a grip, fingered. The row must be one that a hand can take.
Grip grip_of(const Fretboard& board, const FretRow& row, std::string name);

} // namespace landfall::neck
