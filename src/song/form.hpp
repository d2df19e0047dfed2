#pragma once

#include "song/meter.hpp"
#include "theory/key.hpp"
#include "time/tempo.hpp"

#include <optional>
#include <string>
#include <vector>

namespace landfall::song {

/// A chord and where in its bar it begins.
struct ChordAt {
  Ticks at;                           ///< From the bar's start.
  std::optional<theory::Chord> chord; ///< None is N.C.
  bool fresh = true;                  ///< False for a chord that only goes on from before.
  bool written = true;                ///< Whether the chart has a symbol here.

  bool operator==(const ChordAt&) const = default;
};

/// A bar of the unrolled form.
struct Bar {
  int number = 1;      ///< Within the form, from 1.
  std::string section; ///< "" where the song names none.
  bool section_start = false;
  Meter meter;
  Ticks start;                 ///< From the top of the chorus.
  std::vector<ChordAt> chords; ///< At least one; the first is at 0.
  theory::Key key;             ///< In force here, after transposition.
  std::string feel;            ///< In force here; the song's own unless it changes.
  std::optional<Tempo> tempo;  ///< A tempo written at this bar.
  bool space = false;          ///< Left to the player by the chart: the player rests here.
};

/// One chorus of a song in a key: repeats, endings and the form line unrolled.
struct Form {
  std::string name;
  theory::Key key;
  std::vector<Bar> bars; ///< At least one.
  Ticks length;          ///< Of all bars.
  Tempo tempo;           ///< The song's own.
  std::string feel;      ///< The song's own.
  /// Bars before the top in which only a pick-up is played; their starts are negative, they are
  /// not part of `bars` nor `length`, and they are played once, instead of the count-in's last
  /// bars.
  std::vector<Bar> pickup;
};

/// The bar that holds `tick` (from the top of the chorus, in [0, form.length)).
const Bar& bar_at(const Form& form, Ticks tick);

/// The chord in force at `tick` in [0, form.length).
const ChordAt& chord_at(const Form& form, Ticks tick);

/// Where the next fresh chord begins after `tick`, in [tick+1, form.length]; form.length is the
/// top.
Ticks next_change(const Form& form, Ticks tick);

} // namespace landfall::song
