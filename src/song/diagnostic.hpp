#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace landfall::song {

enum class Severity : std::uint8_t { warning, error };

/// A place in a text; both count from 1, columns in bytes.
struct Position {
  int line = 1;
  int column = 1;

  bool operator==(const Position&) const = default;
};

/// Something that a reader of text has to say about it.
struct Diagnostic {
  Severity severity = Severity::error;
  Position at;
  std::string message; ///< One line: what was found and what was expected.

  bool operator==(const Diagnostic&) const = default;
};

/// Collects diagnostics, at most a hundred of each severity.
class Reporter {
public:
  void error(Position at, std::string message);
  void warning(Position at, std::string message);

  bool failed() const { return errors_ > 0; }
  /// Whether so much is wrong that reading on is of no use.
  bool full() const { return errors_ >= limit; }

  /// In the order of the text.
  std::vector<Diagnostic> take();

private:
  static constexpr int limit = 100;

  std::vector<Diagnostic> diagnostics_;
  int errors_ = 0;
  int warnings_ = 0;
};

/// A piece of the text in quotes for a message, cut where it is long.
std::string quoted(std::string_view text);

} // namespace landfall::song
