#pragma once

#include "song/diagnostic.hpp"

#include <optional>

namespace landfall::song {

/// A piece of a line of text and where it stands.
struct TextLine {
  std::string_view text;
  Position at;
};

/// Hands out the lines of a text that say something: without comments, surrounding blanks and
/// empty lines. A byte order mark does not count. Lines that are too long or no clean UTF-8 are
/// reported and left out.
class LineReader {
public:
  explicit LineReader(std::string_view text);

  std::optional<TextLine> next(Reporter& reporter);

private:
  std::string_view rest_;
  int number_ = 0;
};

/// A line split at the colon after a name; the name is empty if there is none.
struct NamedLine {
  TextLine name;
  TextLine value;
};
NamedLine split_name(const TextLine& line);

/// A text of bars in one short line that can serve as a title.
std::string title_from_bars(std::string_view text);

} // namespace landfall::song
