#include "song/symbol.hpp"

#include "song/diagnostic.hpp"
#include "theory/roman.hpp"

namespace landfall::song {

namespace {

/// The accidentals at the front of a degree.
std::size_t accidentals(std::string_view text) {
  std::size_t end = 0;
  while (end < text.size()) {
    const std::string_view rest = text.substr(end);
    if (rest[0] == 'b' || rest[0] == '#')
      end += 1;
    else if (rest.starts_with("♭") || rest.starts_with("♯"))
      end += 3;
    else
      break;
  }
  return end;
}

} // namespace

bool is_numeral(std::string_view text) {
  text.remove_prefix(accidentals(text));
  return !text.empty() &&
         std::string_view("0123456789IViv").find(text[0]) != std::string_view::npos;
}

Result<theory::Chord> read_symbol(std::string_view text, theory::Key key) {
  if (is_numeral(text))
    return theory::parse_numeral(text, key);
  const char c = text.empty() ? '\0' : text[0];
  if (c >= 'A' && c <= 'G')
    return theory::parse_chord(text);
  const std::string found = quoted(text) + " is no chord: expected ";
  if (c >= 'a' && c <= 'g')
    return TextError{found + "a root in capitals, A to G", 1};
  return TextError{found + "a chord (Am7), a numeral (vi7), a number (6-7), N.C., / or %", 1};
}

} // namespace landfall::song
