#pragma once

#include "theory/chord.hpp"
#include "theory/degree.hpp"
#include "time/ticks.hpp"

#include <map>
#include <optional>
#include <vector>

/// What the ear has to say of a performance.
namespace landfall::ear {

/// How a change was met. Rest: no arrival; never an error.
enum class Verdict : std::uint8_t { landed, late, off, rest };

/// How the landing was approached.
enum class Approach : std::uint8_t { step, half_step, common_tone, leap, enclosure };

/// One change of the timeline, judged.
struct JudgedChange {
  Ticks at;            ///< Performance ticks.
  int chorus = 0;      ///< From 0.
  int bar = 1;         ///< Within the form, from 1.
  double beat = 1.0;   ///< From 1; in compound metre the beat is the dotted quarter.
  theory::Chord chord; ///< The one that is arrived at.
  Verdict verdict = Verdict::rest;
  std::optional<theory::Degree> degree; ///< Of the note landed on; none unless landed or late.
  std::optional<Approach> approach;     ///< None unless landed or late.
  /// Of the note landed on (where the arrival leans or is late, the one that follows), or else of
  /// the arrival; bends rounded; none for a rest.
  std::optional<int> midi;
  std::optional<Ticks> arrived; ///< Its onset, or where its bend arrived.
  bool in_set = false;
  bool in_position = false;
  bool aimed_at = true;               ///< Whether its degree is one of the target's.
  std::optional<theory::Degree> held; ///< Of an arrival that is off: its degree over the chord.
  bool own_word = false;              ///< The player's own, not heard.

  bool operator==(const JudgedChange&) const = default;
};

enum class NoteClass : std::uint8_t { landing, set, approach, outside };

/// One note of the player, judged.
struct JudgedNote {
  Ticks at;           ///< Onset, performance ticks.
  int midi = 60;      ///< As struck.
  double cents = 0.0; ///< Its settled pitch, from `midi`.
  NoteClass note_class = NoteClass::outside;
  std::optional<double> deviation_ms; ///< From the subdivision that fits; positive is behind. None
                                      ///< for grace notes, slides and before calibration.
  std::optional<bool> in_position;    ///< None where the string is not known.

  bool operator==(const JudgedNote&) const = default;
};

/// Changes added up.
struct Count {
  int landed = 0;
  int late = 0;

  bool operator==(const Count&) const = default;
};

struct Summary {
  int changes = 0;
  int landed = 0;
  int late = 0;
  int off = 0;
  int rest = 0;
  std::map<int, Count> by_degree; ///< By the number of the degree landed on: 1, 3, 5, 7, ...
  std::optional<double> deviation_mean_ms;
  std::optional<double> deviation_sd_ms;

  /// Landed of what was played; none when nothing was.
  std::optional<double> landing_rate() const {
    const int played = landed + late + off;
    return played == 0 ? std::nullopt : std::optional(static_cast<double>(landed) / played);
  }
  bool operator==(const Summary&) const = default;
};

struct Judgement {
  std::vector<JudgedChange> changes; ///< In the order of their ticks.
  std::vector<JudgedNote> notes;     ///< In the order of their onsets.
  Summary summary;

  bool operator==(const Judgement&) const = default;
};

} // namespace landfall::ear
