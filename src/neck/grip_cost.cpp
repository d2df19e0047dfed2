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

/// Both altered ninths of an altered chord: six strings and four fingers seldom hold the two.
bool is_either_ninth(const theory::Chord& chord, theory::Degree degree) {
  return chord.suffix == "7alt" && degree.number == 9;
}

/// Prices, in units of one finger.
namespace price {
constexpr double inner_mute_in_triad = 3.6;
constexpr double inner_mute = 1.6; // Shells and open voicings of sevenths mute one on purpose.
constexpr double mute_beside_bass = 0.5; // The tip of the finger on the bass string damps it.
constexpr double second_inner_mute = 3.0;
constexpr double silent_treble_in_triad = 0.6;
constexpr double silent_treble = 0.5;
constexpr double third_silent_treble = 0.8;
constexpr double silent_bass = 0.35;
constexpr double no_fifth_in_triad = 4.0;
constexpr double no_fifth = 0.5;
constexpr double no_extension = 0.3;
constexpr double doubled_third = 0.2;
constexpr double doubled_colour = 1.2;
constexpr double doubled_in_unison = 2.0;
constexpr double wrong_bass = 1.2;
constexpr double mud = 1.5;
constexpr double thin = 1.5;
constexpr double height = 0.05;
constexpr double open_high = 0.6;
constexpr double open_low = -0.2;
constexpr double open_beside_high = 0.8;
} // namespace price

} // namespace

GripJudge::GripJudge(const Fretboard& board, const theory::Chord& chord)
    : board_(board), tones_(chord), bass_(pitch_class(chord.bass.value_or(chord.root))) {
  allowed_ = static_cast<PitchClasses>(tones_.all | bit(bass_));
  for (const auto degree : chord.degrees) {
    const auto tone = bit(tones_.root + pitch_class(degree));
    const bool optional = (degree.number == 5 && degree.alteration == 0) || may_go(chord, degree);
    (is_either_ninth(chord, degree) ? either_ : optional ? optional_ : required_) |= tone;
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
  if (count < fewest || (required_ & ~sounding) != 0 || (either_ != 0 && (either_ & sounding) == 0))
    return false;
  return !must_have_bass() || lowest_pitch(row) % 12 == bass_;
}

/// What can be heard and seen of a grip at one pass over its strings.
struct GripJudge::Look {
  std::array<int, 12> times{}; ///< By pitch class.
  int sounding = 0, open = 0;
  int first = -1, last = -1, inner = 0; ///< Outermost strings, and the silent ones between.
  int lowest_pitch = 128, lowest_fret = 99, highest_fret = 0;
  double rub = 0.0; ///< Unisons, and close intervals in the bass.
};

GripJudge::Look GripJudge::look(const FretRow& row) const {
  Look look;
  int previous = -1;
  for (int string = 0; string < board_.count; ++string) {
    const int fret = row[string];
    if (fret == muted)
      continue;
    const int pitch = *board_.pitch(string, fret);
    ++look.times[static_cast<std::size_t>(pitch % 12)];
    ++look.sounding;
    look.inner += look.first < 0 ? 0 : string - look.last - 1;
    look.first = look.first < 0 ? string : look.first;
    look.last = string;
    look.open += fret == 0 ? 1 : 0;
    look.lowest_pitch = std::min(look.lowest_pitch, pitch);
    look.lowest_fret = fret > 0 ? std::min(look.lowest_fret, fret) : look.lowest_fret;
    look.highest_fret = std::max(look.highest_fret, fret);
    if (pitch == previous)
      look.rub += price::doubled_in_unison;
    else if (previous >= 0 && previous < 45 && pitch > previous && pitch - previous < 4)
      look.rub += price::mud;
    previous = pitch;
  }
  return look;
}

bool GripJudge::is_voicing(const FretRow& row) const {
  const auto seen = look(row);
  return seen.sounding >= 4 &&
         std::all_of(seen.times.begin(), seen.times.end(), [](int times) { return times < 2; });
}

bool GripJudge::is_triad() const {
  return tones_.seventh < 0 && tones_.extension_count == 0;
}

double GripJudge::cost_of_tones(const Look& look) const {
  double cost = 0.0;
  for (int tone = 0; tone < 12; ++tone) {
    const int extra = look.times[static_cast<std::size_t>(tone)] - 1;
    const int relative = (tone - tones_.root + 12) % 12;
    if (extra < 0 && has(optional_, tone))
      cost += relative != 7 ? price::no_extension
              : is_triad()  ? price::no_fifth_in_triad
                            : price::no_fifth;
    else if (extra > 0 && relative == tones_.third)
      cost += extra * price::doubled_third;
    else if (extra > 0 && relative != 0 && relative != tones_.fifth)
      cost += extra * price::doubled_colour;
  }
  return cost;
}

double GripJudge::cost_of_silence(const FretRow& row, const Look& look) const {
  const int trebles = board_.count - 1 - look.last;
  double cost = look.first * price::silent_bass +
                trebles * (is_triad() ? price::silent_treble_in_triad : price::silent_treble) +
                std::max(0, trebles - 2) * price::third_silent_treble;
  if (look.inner == 0)
    return cost;
  const bool beside_bass = row[look.first] > 0 && row[look.first + 1] == muted;
  cost += (look.inner - 1) * price::second_inner_mute;
  return cost + (is_triad()    ? price::inner_mute_in_triad
                 : beside_bass ? price::mute_beside_bass
                               : price::inner_mute);
}

double GripJudge::cost_of_place(const Look& look) const {
  double cost = 0.0;
  if (look.lowest_pitch % 12 != bass_)
    cost += price::wrong_bass;
  if (board_.count > 4 && look.sounding < 4 && look.lowest_pitch >= 55)
    cost += price::thin;
  if (look.lowest_fret < 99)
    cost += look.lowest_fret * price::height;
  if (look.lowest_fret <= 3)
    cost += look.open * price::open_low;
  else if (look.lowest_fret < 99 && look.open > 0)
    cost += look.lowest_fret * price::open_high;
  if (look.open > 0 && look.highest_fret > 3)
    cost += price::open_beside_high;
  return cost;
}

double GripJudge::cost(const FretRow& row) const {
  const auto seen = look(row);
  return seen.rub + cost_of_tones(seen) + cost_of_silence(row, seen) + cost_of_place(seen);
}

} // namespace landfall::neck
