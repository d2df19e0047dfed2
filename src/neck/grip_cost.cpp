#include "neck/grip_cost.hpp"

#include <algorithm>
#include <bit>

namespace landfall::neck {
namespace {

PitchClasses bit(int pitch) {
  return static_cast<PitchClasses>(1U << (pitch % 12));
}

/// Natural extensions below the highest one may go: the 9 of a 13.
bool may_go(const theory::Chord& chord, theory::Degree degree) {
  if (degree.number < 9 || degree.alteration != 0)
    return false;
  return std::any_of(chord.degrees.begin(), chord.degrees.end(),
                     [&](theory::Degree other) { return other.number > degree.number; });
}

/// Prices, in units of one finger.
namespace price {
constexpr double inner_mute_in_triad = 3.0;
constexpr double inner_mute = 1.0; // Shells and open voicings of sevenths mute one on purpose.
constexpr double mute_beside_bass = 0.5; // The tip of the finger on the bass string damps it.
constexpr double second_inner_mute = 3.0;
constexpr double silent_treble_in_triad = 0.6;
constexpr double silent_treble = 0.4;
constexpr double silent_bass = 0.35;
constexpr double no_fifth_in_triad = 4.0;
constexpr double no_fifth = 0.3;
constexpr double no_extension = 0.3;
constexpr double doubled_third = 0.2;
constexpr double doubled_colour = 1.2;
constexpr double doubled_in_unison = 2.0;
constexpr double wrong_bass = 1.2;
constexpr double mud = 1.5;
constexpr double thin = 1.0;
constexpr double height = 0.07;
constexpr double open_high = 0.6;
constexpr double open_low = -0.2;
} // namespace price

} // namespace

GripJudge::GripJudge(const Fretboard& board, const theory::Chord& chord)
    : board_(board), tones_(chord), bass_(pitch_class(chord.bass.value_or(chord.root))) {
  allowed_ = static_cast<PitchClasses>(tones_.all | bit(bass_));
  for (const auto degree : chord.degrees) {
    const auto tone = bit(tones_.root + pitch_class(degree));
    const bool optional = (degree.number == 5 && degree.alteration == 0) || may_go(chord, degree);
    (optional ? optional_ : required_) |= tone;
  }
  if (chord.degrees.size() < 3) // A fifth chord is nothing without its fifth.
    required_ = tones_.all;
}

int GripJudge::lowest_pitch(const FretRow& row) const {
  int lowest = 128;
  for (int string = 0; string < board_.count; ++string)
    if (row[string] != muted)
      lowest = std::min(lowest, *board_.pitch(string, row[string]));
  return lowest;
}

bool GripJudge::complete(const FretRow& row) const {
  unsigned sounding = 0;
  int count = 0;
  for (int string = 0; string < board_.count; ++string)
    if (row[string] != muted) {
      sounding |= bit(*board_.pitch(string, row[string]));
      ++count;
    }
  const bool shell = tones_.seventh >= 0 || tones_.third < 0;
  const int fewest = std::min(shell ? 3 : 4, std::max(3, board_.count - 1));
  if (count < fewest || (required_ & ~sounding) != 0)
    return false;
  return !must_have_bass() || lowest_pitch(row) % 12 == bass_;
}

double GripJudge::cost(const FretRow& row) const {
  double cost = 0.0;
  std::array<int, 12> doubled{};
  int previous = -1, previous_string = -1, first = -1, last = -1, inner = 0, lowest_fret = 99,
      open = 0;
  for (int string = 0; string < board_.count; ++string) {
    const int fret = row[string];
    if (fret == muted)
      continue;
    const int pitch = *board_.pitch(string, fret);
    ++doubled[static_cast<std::size_t>(pitch % 12)];
    first = first < 0 ? string : first;
    last = string;
    inner += previous_string < 0 ? 0 : string - previous_string - 1;
    if (previous >= 0 && pitch == previous)
      cost += price::doubled_in_unison;
    if (previous >= 0 && previous < 45 && pitch - previous < 4 && pitch > previous)
      cost += price::mud;
    previous = pitch;
    previous_string = string;
    open += fret == 0 ? 1 : 0;
    if (fret > 0)
      lowest_fret = std::min(lowest_fret, fret);
  }
  const bool triad = tones_.seventh < 0 && tones_.extension_count == 0;
  const bool beside_bass = first + 1 < board_.count && row[first] > 0 && row[first + 1] == muted;
  if (inner > 0)
    cost += (triad         ? price::inner_mute_in_triad
             : beside_bass ? price::mute_beside_bass
                           : price::inner_mute) +
            (inner - 1) * price::second_inner_mute;
  cost +=
      first * price::silent_bass +
      (board_.count - 1 - last) * (triad ? price::silent_treble_in_triad : price::silent_treble);
  for (int tone = 0; tone < 12; ++tone) {
    const int extra = doubled[static_cast<std::size_t>(tone)] - 1;
    const int relative = (tone - tones_.root + 12) % 12;
    if (extra < 0) {
      if (has(optional_, tone))
        cost += relative != 7 ? price::no_extension
                : triad       ? price::no_fifth_in_triad
                              : price::no_fifth;
    } else if (extra > 0 && relative == tones_.third) {
      cost += extra * price::doubled_third;
    } else if (extra > 0 && relative != 0 && relative != tones_.fifth) {
      cost += extra * price::doubled_colour;
    }
  }
  const int lowest = lowest_pitch(row);
  if (lowest % 12 != bass_)
    cost += price::wrong_bass;
  if (board_.count > 4 && lowest >= 60)
    cost += price::thin;
  if (lowest_fret < 99)
    cost += lowest_fret * (price::height + (open > 0 && lowest_fret > 3 ? price::open_high : 0.0));
  if (lowest_fret <= 3)
    cost += open * price::open_low;
  return cost;
}

} // namespace landfall::neck
