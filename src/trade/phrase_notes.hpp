#pragma once

#include "theory/named_lines.hpp"
#include "trade/phrase.hpp"

namespace landfall::trade {

/// Lays the notes of a phrase file's `line:` lines behind one another.
class PhraseNotes {
public:
  /// `phrase` has its metre, key, length and chords, and outlives this; `begin` is where the first
  /// note lies, at 0 or below.
  PhraseNotes(Phrase& phrase, Ticks begin) : phrase_(phrase), at_(begin) {}

  /// Adds the notes of one line.
  std::optional<TextError> take(const NamedField& line);

private:
  std::optional<TextError> take_sign(const NamedField& line, std::string_view sign);
  std::optional<TextError> take_note(const NamedField& line, std::string_view sign);
  std::optional<TextError> take_pitch(const NamedField& line, std::string_view text,
                                      PhraseNote& note) const;

  Phrase& phrase_;
  Ticks at_;                    ///< Where the next note begins.
  theory::MidiNote before_{60}; ///< What the next degree lies nearest to.
};

} // namespace landfall::trade
