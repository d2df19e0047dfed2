#pragma once

#include "song/meter.hpp"
#include "theory/key.hpp"
#include "time/tempo.hpp"

#include <optional>
#include <string>
#include <vector>

namespace landfall::song {

/// What holds from a bar on until something else is written.
struct Context {
  Meter meter;
  theory::Key key;
  Tempo tempo;
  std::string feel = "straight-eighths";

  bool operator==(const Context&) const = default;
};

/// A chord symbol or N.C. where it is written.
struct WrittenChord {
  Ticks at;                           ///< From the bar's start, below the bar's length.
  std::optional<theory::Chord> chord; ///< None is N.C.

  bool operator==(const WrittenChord&) const = default;
};

/// A bar as it stands on the page.
struct ChartBar {
  std::vector<WrittenChord> chords; ///< Rising; until the first of them the chord before goes on.
  Context context;
  bool space = false; ///< The player rests here.

  bool operator==(const ChartBar&) const = default;
};

/// The bars of a repeat that are played on some of its passes only.
struct Ending {
  int first_pass = 1; ///< From 1.
  int last_pass = 1;
  std::vector<ChartBar> bars;

  bool operator==(const Ending&) const = default;
};

/// Bars that are played `times` times, each time followed by that pass's ending if there are any.
/// Endings follow each other without a gap from pass 1 to pass `times`.
struct Passage {
  std::vector<ChartBar> bars;
  int times = 1;
  std::vector<Ending> endings;

  bool operator==(const Passage&) const = default;
};

struct Section {
  std::string name; ///< "" where the chart names none.
  std::vector<Passage> passages;

  bool operator==(const Section&) const = default;
};

/// A song as written, in its own key.
struct Song {
  std::string title;
  std::string trains; ///< What it is good for practising, in a line; may be empty.
  theory::Key key;
  Meter meter;
  Tempo tempo;
  std::string feel = "straight-eighths";
  std::vector<Section> sections;
  std::vector<int> order; ///< Indices of `sections` as they are played, at least one.
  std::vector<ChartBar> pickup;

  bool operator==(const Song&) const = default;
};

/// What the song's head says.
inline Context context(const Song& song) {
  return {song.meter, song.key, song.tempo, song.feel};
}

/// Bars of one chorus.
std::size_t unrolled_bars(const Song& song);

/// The feel that a metre asks for when none is named: waltz, six-eight-ballad, five, or
/// straight-eighths.
std::string usual_feel(Meter meter);

/// A tempo for beats a minute, the beat being what the foot taps in this metre (the dotted quarter
/// in 6/8). Clamped as tempo_from_bpm does.
Tempo tempo_from_beats(double beats_per_minute, Meter meter);

/// The inverse of tempo_from_beats.
double beats_per_minute(Tempo tempo, Meter meter);

} // namespace landfall::song
