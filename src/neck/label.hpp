#pragma once

#include "neck/view.hpp"

#include <string>
#include <string_view>

namespace landfall::neck {

/// What is written on a note.
enum class LabelKind : std::uint8_t {
  degree,     ///< Relative to the chord: b3.
  key_degree, ///< Relative to the key's tonic, by its usual name.
  name,       ///< Eb.
  finger,     ///< 0 for an open string, 1 to 4 by the hand's frets; "" on a keyboard.
  none,
};

/// `degree`, `key`, `note`, `finger`, `none`.
Result<LabelKind> parse_label_kind(std::string_view text);

/// The label in plain letters. `hand` is where the hand is for the chord.
std::string label(const NeckNote& note, LabelKind kind, theory::Key key, const Position& hand);

/// Which layers of a view are shown.
struct Shown {
  bool landing = true;
  bool set = true;         ///< All of the set; with `landing`, its other notes.
  bool chord_tones = true; ///< All outside the set; guide tones are shown with the landing notes.
  bool grip = true;
  bool groups = true;
  bool grips = true;
};

/// Layers by name, with commas: `landing,set,chord-tones,grip,groups,grips`; `all`.
Result<Shown> parse_shown(std::string_view text);

/// Takes everything out of the view that is not to be shown. Landing notes of the set that are not
/// to be lit stay as notes of the set.
void show_only(NeckView& view, const Shown& shown);

} // namespace landfall::neck
