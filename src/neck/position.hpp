#pragma once

#include "neck/shape.hpp"

#include <string>

namespace landfall::neck {

/// What a player asks for. With neither: an E shape, or where shapes have no meaning the place with
/// the tonic on the lowest string; on a keyboard the root position.
struct PlaceRequest {
  std::optional<char> shape{}; ///< C A G E D, in either case: the tonic chord's.
  /// The fret of the first finger, exactly; with a shape, that shape's octave nearest to it. On a
  /// keyboard 0, 1, 2 for the tonic chord's inversion nearest middle C, or the lowest key's MIDI
  /// note number from 12 up.
  std::optional<int> position{};

  bool operator==(const PlaceRequest&) const = default;
};

/// The home hand of a key: the frets under it and the shape of the tonic chord there.
struct Position {
  std::optional<ChordShape> shape; ///< None where shapes have no meaning.
  int low = 0;        ///< Fret of the first finger; 0 is the open position. Keyboard: MIDI note.
  int high = 4;       ///< The last fret under the hand, reach left out. Keyboard: MIDI note.
  bool exact = false; ///< Asked for by fret: note sets and chords do not move the hand.

  bool operator==(const Position&) const = default;
};

/// Finds the place asked for. The error is one clear line.
Result<Position, std::string> find_position(const Instrument& instrument, theory::Key key,
                                            const PlaceRequest& request);

/// Every place a key has on the instrument, up the neck: all octaves of the five shapes; every fret
/// where shapes have no meaning; on a keyboard the inversions of the tonic in every octave.
std::vector<Position> all_positions(const Instrument& instrument, theory::Key key);

/// The home hand for a shape of the tonic: of the frets next to its nut the one for which the key's
/// scale needs the fewest reaches; none if no such hand is on the board.
std::optional<int> home_hand(const Fretboard& board, theory::Key key, ChordShape shape);

/// The shape that a chord has in a position. It goes by the home hand, never by the note set.
/// None where shapes have no meaning.
std::optional<ChordShape> chord_shape(const Fretboard& board, const Position& home, theory::Key key,
                                      const theory::Chord& chord);

/// The fret of the first finger for a note set, and, when the set moves with the chord, for the
/// chord: the home hand unless moving saves reaches (for one chord: at least two).
int hand_for(const Fretboard& board, const Position& home, theory::Key key,
             const std::optional<theory::Chord>& chord, const theory::NoteSet& set,
             theory::Over over, const theory::FittingTable& fitting = theory::default_fitting());

} // namespace landfall::neck
