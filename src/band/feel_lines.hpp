#pragma once

#include "band/feel.hpp"

namespace landfall::band {

/// A piece of a feel file's text and where it stands.
struct Words {
  std::string_view text;
  int line = 1;
  int column = 1; ///< Of the first byte.
};

/// `words` without spaces at both ends.
Words trimmed(Words words);

/// Takes what stands before `end` from the front of `words`, trimmed, and moves past `end`; all of
/// it when there is no `end`.
Words take_until(Words& words, char end);

/// Takes the first word.
Words take_word(Words& words);

/// An error at the front of `words`.
TextError error_at(Words words, std::string reason);

/// Text from a file as it may be shown: shortened, odd bytes as `?`.
std::string shown(std::string_view text);

/// A whole number in [low, high], with nothing after it.
Result<int> number_in(Words words, int low, int high);

/// A number with up to one decimal, in tenths, in [low, high] (tenths too).
Result<int> tenths_in(Words words, int low, int high);

} // namespace landfall::band
