#pragma once

#include "song/diagnostic.hpp"

#include <optional>

namespace landfall::song {

/// One thing that stands on a line of bars.
struct Mark {
  enum class Kind : std::uint8_t {
    bar_line,    ///< `|`, `||`, `|:`, `:|`, `:|:`
    ending,      ///< `1.`, `1-3.`
    times,       ///< `x3`
    slash,       ///< `/`, a beat on which the chord goes on; a run of them is as many beats
    simile,      ///< `%`, the bar before once more
    space,       ///< `space`, the player rests in this bar
    no_chord,    ///< `N.C.`
    symbol,      ///< A chord, a numeral or a number, not read yet
    group_open,  ///< `(`, what follows shares one beat
    group_close, ///< `)`
  };
  Kind kind;
  std::string_view text;
  Position at;
};

/// Cuts a line into its marks; what can't be one is reported and left out.
std::vector<Mark> marks_of(std::string_view line, Position start, Reporter& reporter);

struct BarLine {
  bool closes_repeat = false;
  bool opens_repeat = false;
  bool is_double = false;
};
BarLine bar_line(const Mark& mark);

/// First and last pass of an ending mark, each from 1 to 9; none if they make no sense.
struct Passes {
  int first = 1;
  int last = 1;
};
std::optional<Passes> passes(const Mark& mark);

/// The number of a times mark.
int times(const Mark& mark);

} // namespace landfall::song
