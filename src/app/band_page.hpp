#pragma once

#include "app/lists.hpp"
#include "practice/choice.hpp"
#include "song/meter.hpp"

namespace landfall::app {

/// One thing that the band can be told on its page.
struct BandRow {
  std::string text;
  std::string detail;
  std::optional<practice::Command> command; ///< None for a heading.
  bool chosen = false;
};

/// Click, rests, drone, count-in, levels, moves of key and tempo. The hand stays on `instrument`
/// when the key moves.
std::vector<BandRow> band_rows(const practice::Choice& choice, song::Meter meter,
                               const neck::Instrument& instrument);

/// The rows as a page; the value of row n is `band:n`.
ChoiceList band_list(const std::vector<BandRow>& rows);

/// The row that a value names; null if none.
const BandRow* band_row(const std::vector<BandRow>& rows, const std::string& value);

/// What of it is not as usual, for the top line: `click · rests 2 in 4`; may be empty.
std::string arrangement_words(const practice::Choice& choice);

} // namespace landfall::app
