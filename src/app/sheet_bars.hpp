#pragma once

#include "song/form.hpp"
#include "song/song.hpp"

namespace landfall::app::sheet {

/// A bar of a written chart, in the key in which it is shown, with the signs around it.
struct ChartCell {
  enum class End : std::uint8_t { plain, twofold, repeat, last };

  std::vector<song::WrittenChord> chords;
  song::Meter meter;
  bool meter_shown = false;
  bool space = false;
  bool opens_repeat = false;
  bool under_ending = false;
  std::string ending; ///< `1.` where an ending begins.
  End end = End::plain;
  std::string times;  ///< `3 times`, at the end of a repeat that is not played twice.
  std::string change; ///< `key of D`, `96 beats a minute`, `shuffle`; as a rule empty.
};

struct ChartSection {
  std::string name;
  std::vector<ChartCell> cells;
};

/// The song's sections as they stand, the pick-up first.
std::vector<ChartSection> chart_sections(const song::Song& song, const song::Form& form);

/// `Verse, Verse, Bridge, Verse`; empty where the sections are played as they stand.
std::string form_words(const song::Song& song);

} // namespace landfall::app::sheet
