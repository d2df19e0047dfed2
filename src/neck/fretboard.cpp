#include "neck/fretboard.hpp"

#include <algorithm>

namespace landfall::neck {
namespace {

std::optional<int> offset_of_shapes(const Fretboard& board) {
  constexpr std::array<int, 6> standard{40, 45, 50, 55, 59, 64};
  if (board.count < 6)
    return std::nullopt;
  const int first = board.count - 6;
  const auto at = [&](int i) { return board.strings[static_cast<std::size_t>(first + i)]; };
  const int offset = at(0).open.number - standard[0];
  for (int i = 0; i < 6; ++i)
    if (at(i).open.number - standard[static_cast<std::size_t>(i)] != offset || at(i).first_fret > 0)
      return std::nullopt;
  return offset;
}

} // namespace

Fretboard::Fretboard(const Instrument& instrument)
    : count(std::min(static_cast<int>(instrument.strings.size()), max_strings)),
      frets(std::max(0, instrument.frets - instrument.capo)), hand(std::max(1, instrument.hand)),
      reach(std::max(0, instrument.reach)) {
  for (std::size_t i = 0; i < static_cast<std::size_t>(count); ++i) {
    const auto& string = instrument.strings[i];
    const int raised = std::max(0, instrument.capo - string.first_fret);
    strings[i] = {string.open + raised, std::max(0, string.first_fret - instrument.capo)};
    reentrant = reentrant || (i > 0 && strings[i].open < strings[i - 1].open);
  }
  shape_offset = offset_of_shapes(*this);
}

std::optional<int> Fretboard::pitch(int string, int fret) const {
  const auto& s = strings[static_cast<std::size_t>(string)];
  if (fret < 0 || fret > frets || (fret > 0 && fret <= s.first_fret))
    return std::nullopt;
  const int number = s.open.number + (fret == 0 ? 0 : fret - s.first_fret);
  return number > 127 ? std::nullopt : std::optional(number);
}

HandFrets Fretboard::under(int low) const {
  if (low == 0)
    return {{0, std::min(hand, frets)}, {}, {hand + 1, std::min(4, frets)}};
  return {{low, std::min(low + hand - 1, frets)},
          {std::max(0, low - reach), low - 1},
          {low + hand, std::min(low + hand + reach - 1, frets)}};
}

} // namespace landfall::neck
