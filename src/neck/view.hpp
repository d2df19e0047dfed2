#pragma once

#include "neck/grip.hpp"
#include "neck/group.hpp"
#include "neck/places.hpp"
#include "neck/position.hpp"

#include <span>

namespace landfall::neck {

/// What a note is to the chord: safe to land on, another note of the set, or a chord tone outside
/// the set.
enum class Role : std::uint8_t { landing, set, chord };

/// One lit place.
struct NeckNote {
  int string = 1; ///< As players number them, 1 the highest of the tuning; 0 on a keyboard.
  std::optional<int> fret; ///< 0 for an open string, counted from the capo; none on a keyboard.
  theory::MidiNote midi;
  theory::Note note;     ///< As the chord spells it, else as the set does.
  theory::Degree degree; ///< Relative to the chord; to the key where there is no chord.
  Role role = Role::set;
  bool in_set = false;
  bool in_grip = false; ///< Fretted by the chord's grip in this position.
  bool reach = false;   ///< Beyond the hand.
  bool guide = false;   ///< One of the tones that tell the chord: always shown.

  bool operator==(const NeckNote&) const = default;
};

/// What to work out, beyond the notes.
struct ViewOptions {
  bool groups = true;
  bool grips = true;
  std::size_t most_grips = 10;
};

/// Everything there is to play from over one chord in one position.
struct NeckView {
  Position home; ///< The key's.
  Position hand; ///< For this set and chord: the frets under the hand. Its shape is home's.
  std::optional<ChordShape> chord_shape; ///< None without a chord or where shapes have no meaning.
  std::vector<NeckNote> notes; ///< By string from the lowest, then fret; on a keyboard upwards.
  std::vector<Group> groups;
  std::vector<Grip> grips; ///< Within hand and reach, best first.
};

/// A place, a colour and what is under it: all that a view depends on besides the chord.
struct Setting {
  const Instrument* instrument = nullptr; ///< Never null.
  Position home;
  theory::Key key;
  theory::NoteSet set;
  theory::Over over = theory::Over::chord;
  const theory::FittingTable* fitting = nullptr; ///< Null for the default.
};

/// What lies under the hand over `chord` (none: N.C.). Pure; a few microseconds without grips.
NeckView view(const Setting& setting, const std::optional<theory::Chord>& chord,
              const ViewOptions& options = {});

/// The landing notes alone, in the order of NeckView::notes.
std::vector<NeckNote> landing(const Setting& setting, const std::optional<theory::Chord>& chord);

/// How a note moves to the coming chord.
enum class Motion : std::uint8_t { common_tone, half_step, whole_step, leap };

/// The nearest landing note of the coming chord from a present one.
struct Lead {
  std::size_t from = 0; ///< Index among the present landing notes.
  std::size_t to = 0;   ///< Index among the coming ones.
  int half_steps = 0;   ///< Upwards above 0.
  Motion motion = Motion::common_tone;

  bool operator==(const Lead&) const = default;
};

/// For each present landing note the nearest coming one; of two as near a guide tone, then the
/// lower. Empty if nothing is to come.
std::vector<Lead> leads(std::span<const NeckNote> present, std::span<const NeckNote> coming);

/// A line of guide tones through the changes that moves least in all: one note for each chord, all
/// of them in the position; of two such lines the one that ends nearer the middle. A chord without
/// guide tones gives another of its notes; none for N.C.
std::vector<std::optional<NeckNote>>
guide_line(const Setting& setting, std::span<const std::optional<theory::Chord>> chords);

} // namespace landfall::neck
