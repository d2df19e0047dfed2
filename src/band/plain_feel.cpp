#include "band/feel.hpp"

#include <cassert>

namespace landfall::band {
namespace {

constexpr std::string_view text = R"(
name: plain
about: Eighths on the hat, roots, chords held: what is played when a song names no feel we have.
meter: 4/4
mix: drums 80, bass 95, comping 70

drums quiet:
  side stick | . x . x |
  closed hat | o o o o |
  kick       | x . o . |
drums medium:
  snare      | . x . x |
  closed hat | xoxo xoxo |
  kick       | x . x . |
drums full:
  snare      | . X . X |
  open hat   | X x X x |
  kick       | x. .o x. .. |
drums fill 1 beat:
  snare      | oxxX |

bass quiet:
  line | 1 - - - |
bass medium:
  line | 1 - 1 5 |
bass full:
  line | 11 11 11 15 |

comping quiet:
  chords | x - - - |
comping medium:
  chords | x - o - |
comping full:
  chords | x- -x -- x- |

drums ending:
  crash | X . . . |
  kick  | X . . . |
bass ending:
  line  | 1 - - - |
comping ending:
  chords | X - - - |

count-in:
  side stick | X . x . | X x x x |
)";

} // namespace

const Feel& plain_feel() {
  static const Feel feel = [] {
    auto parsed = parse_feel(text);
    assert(parsed);
    return std::move(parsed).value();
  }();
  return feel;
}

} // namespace landfall::band
