#include "band/guitar.hpp"

#include <algorithm>
#include <array>

namespace landfall::band {
namespace {

constexpr std::array<int, 6> open_strings{40, 45, 50, 55, 59, 64};
constexpr int highest_fret = 15;
constexpr int frets_in_hand = 4;

/// The frets under the hand so far; open strings do not count.
struct Hand {
  int low = highest_fret + 1;
  int high = 0;

  Hand with(int fret) const {
    return fret == 0 ? *this : Hand{std::min(low, fret), std::max(high, fret)};
  }
  bool holds() const { return high - low < frets_in_hand; }
};

bool placed(const Voicing& voicing, std::size_t note, std::size_t string, Hand hand) {
  if (note == voicing.size())
    return true;
  for (; string < open_strings.size(); ++string) {
    const int fret = voicing[note].number - open_strings[string];
    if (fret < 0)
      return false;
    if (fret <= highest_fret && hand.with(fret).holds() &&
        placed(voicing, note + 1, string + 1, hand.with(fret)))
      return true;
  }
  return false;
}

} // namespace

bool playable_on_guitar(const Voicing& voicing) {
  return placed(voicing, 0, 0, {});
}

} // namespace landfall::band
