#include "trade/rhythm_cells.hpp"

#include <algorithm>
#include <array>

namespace landfall::trade {
namespace {

constexpr std::array pairs{
    // quarters
    Cell{"x|-", 8},
    Cell{"x|x", 9},
    Cell{".|x", 5},
    Cell{"x|.", 5},
    // eighths
    Cell{"x|xx", 10},
    Cell{"xx|x", 10},
    Cell{"xx|xx", 10},
    Cell{".x|xx", 8},
    Cell{".x|x", 7},
    Cell{".|xx", 6},
    Cell{"x.|xx", 5},
    Cell{"x|-x", 9, true},
    Cell{".x|-x", 6, true},
    Cell{".x|-", 6, true},
    Cell{"xx|-x", 7, true},
    Cell{"x.|.x", 5, true},
    Cell{".x|.x", 4, true},
    // triplets
    Cell{"xxx|x", 6},
    Cell{"x|xxx", 5},
    Cell{".xx|x", 4},
    Cell{"xxx|xx", 4},
    Cell{"xx|xxx", 4},
    Cell{"xxx|xxx", 3},
    Cell{"x-x|-x-", 4, true},
    // sixteenths
    Cell{"x-xx|x", 7},
    Cell{"x-xx|xx", 6},
    Cell{"xx|x-xx", 6},
    Cell{"xxxx|x", 5},
    Cell{"x|xxxx", 3},
    Cell{".xxx|x", 4},
    Cell{"..xx|x", 5},
    Cell{"x-xx|x-xx", 5},
    Cell{"xxxx|xx", 4},
    Cell{"xx|xxxx", 4},
    Cell{"xxxx|xxxx", 2},
    Cell{"x--x|--x-", 8, true},
    Cell{"x--x|-x", 6, true},
    Cell{"x--x|x", 5, true},
    Cell{"xx-x|x", 5, true},
    Cell{"x-xx|-x", 5, true},
    Cell{"xx-x|-x", 4, true},
    Cell{".x-x|x", 4, true},
};

constexpr std::array singles{
    Cell{"x", 10},       Cell{"xx", 10},  Cell{".x", 5},         Cell{"xxx", 4},
    Cell{"x-xx", 5},     Cell{"xxxx", 2}, Cell{"..xx", 3},       Cell{"x--x", 4},
    Cell{"-x", 4, true}, Cell{"-", 2},    Cell{"xx-x", 3, true},
};

constexpr std::array dotted{
    Cell{"x", 8},         Cell{"x-x", 10},   Cell{"xxx", 8},       Cell{"xx-", 4},
    Cell{".xx", 6},       Cell{"..x", 4},    Cell{".x-", 3, true}, Cell{"-xx", 4, true},
    Cell{"--x", 4, true}, Cell{"-", 2},      Cell{"x-xxxx", 4},    Cell{"x-x-xx", 4},
    Cell{"xxx-x-", 2},    Cell{"xxxxxx", 2},
};

} // namespace

int Cell::beats() const {
  return 1 + static_cast<int>(std::count(text.begin(), text.end(), '|'));
}

int Cell::onsets() const {
  return static_cast<int>(std::count(text.begin(), text.end(), 'x'));
}

std::string_view Cell::beat(int index) const {
  auto rest = text;
  for (; index > 0; --index)
    rest.remove_prefix(rest.find('|') + 1);
  return rest.substr(0, rest.find('|'));
}

int Cell::fineness() const {
  std::size_t most = 0;
  for (int i = 0; i < beats(); ++i)
    most = std::max(most, beat(i).size());
  return static_cast<int>(most);
}

std::span<const Cell> pair_cells() {
  return pairs;
}
std::span<const Cell> single_cells() {
  return singles;
}
std::span<const Cell> ternary_cells() {
  return dotted;
}

} // namespace landfall::trade
