#pragma once

#include "theory/key.hpp"

namespace landfall::theory {

/// Whether a note set stays on the key's tonic or moves with each chord's root.
enum class Over : std::uint8_t { key, chord };

/// The notes chosen to play from.
struct NoteSet {
  enum class Kind : std::uint8_t { arpeggio, fitting, fixed };

  std::string name = "arpeggio";
  Kind kind = Kind::arpeggio;
  std::vector<Degree> degrees; ///< Of a fixed set; empty for the others.

  bool operator==(const NoteSet&) const = default;
};

/// `arpeggio`, `fitting` (what suits each chord's quality), a scale's name, or degrees
/// ("1 2 b3 3 5 6 b7"), in any case.
Result<NoteSet> parse_note_set(std::string_view text);

/// Chord for the arpeggio and the fitting set, key for scales.
Over usual_over(const NoteSet& set);

/// Which fixed set suits each quality.
struct FittingTable {
  NoteSet major, minor, dominant, diminished, half_diminished, augmented, suspended;

  const NoteSet& of(Quality quality) const;
};

/// Major pentatonic over major and dominant, minor pentatonic over minor, and so on.
const FittingTable& default_fitting();

/// A note set on its root, spelled.
struct RootedSet {
  Note root;
  std::vector<Degree> degrees; ///< Relative to root.
  std::vector<Note> notes;

  bool contains(int pitch_class) const;
  /// The note as the set spells it; none if it is not in the set.
  std::optional<Note> spelled(int pitch_class) const;
};

/// The set as it stands over `chord` in `key`. Without a chord (N.C.) sets over the chord stand on
/// the tonic chord.
RootedSet resolved(const NoteSet& set, Over over, Key key, const std::optional<Chord>& chord,
                   const FittingTable& fitting = default_fitting());

} // namespace landfall::theory
