#pragma once

#include "trade/phrase.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace landfall::trade {

/// Bars that a phrase file may have.
inline constexpr int most_phrase_bars = 64;

/// A phrase as a file keeps it. songs/phrases/README.md says what each line of a file means.
struct KeptPhrase {
  std::string name;              ///< One line, not empty.
  std::string about;             ///< One line; may be empty.
  std::vector<std::string> tags; ///< Each without a comma, none empty.
  Phrase phrase;                 ///< Of one metre: its length is that of its bars.

  bool operator==(const KeptPhrase&) const = default;
};

/// Reads a phrase file. Total: any bytes give a phrase with at least one note, or an error with
/// line and column.
Result<KeptPhrase> read_phrase(std::string_view text);

/// A phrase without notes over chords as a file's `over:` has them: `| A7 | D7 E7 |`.
Result<Phrase> phrase_over(std::string_view chords, song::Meter meter, theory::Key key);

/// The text of a phrase file; read_phrase() gives the phrase again, bends to the nearest cent,
/// degrees by degree_over() and a note's chord where it is neither that of its onset nor the next
/// one as that of its onset.
std::string phrase_text(const KeptPhrase& kept);

} // namespace landfall::trade
