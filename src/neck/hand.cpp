#include "neck/places.hpp"
#include "neck/position.hpp"

#include <cstdlib>
#include <tuple>

namespace landfall::neck {
namespace {

/// Whether the hand's own four frets contain the shape's box.
bool contains_box(const Fretboard& board, int low, const ChordShape& shape) {
  const auto* form = find_shape(shape.name);
  return form != nullptr && low <= shape.nut && shape.nut + form->box <= low + board.hand - 1;
}

/// Of the frets around `centre` the one with the fewest reaches; on a tie `home`, then the one that
/// contains the box, then the lowest.
std::optional<int> best_hand(const Fretboard& board, PitchClasses set, int centre,
                             const std::optional<ChordShape>& shape, std::optional<int> home) {
  using Rank = std::tuple<int, bool, bool, int>;
  std::optional<Rank> best;
  for (int low = centre - 1; low <= centre + 1; ++low) {
    if (!board.fits(low))
      continue;
    const Rank rank{count_reaches(board, set, low), low != home.value_or(low),
                    shape && !contains_box(board, low, *shape), low};
    if (!best || rank < *best)
      best = rank;
  }
  return best ? std::optional(std::get<3>(*best)) : std::nullopt;
}

/// Moves by one fret for one chord if that saves two reaches or more; on a tie downwards.
int shifted(const Fretboard& board, PitchClasses set, int low) {
  int best = low;
  int fewest = count_reaches(board, set, low) - 1;
  for (const int other : {low - 1, low + 1})
    if (board.fits(other))
      if (const int reaches = count_reaches(board, set, other); reaches < fewest) {
        best = other;
        fewest = reaches;
      }
  return best;
}

/// Whether the shape stands on the root: after a change of key under the same hand it need not.
bool is_root(const Fretboard& board, const ChordShape& shape, int root) {
  const auto* form = find_shape(shape.name);
  return form != nullptr && (shape.nut - lowest_nut(board, *form, root)) % 12 == 0;
}

int overlap(int a_first, int a_last, int b_first, int b_last) {
  return std::max(0, std::min(a_last, b_last) - std::max(a_first, b_first) + 1);
}

int notes_in_hand(const Fretboard& board, const FretRow& grip, int low) {
  int count = 0;
  for (int string = 0; string < board.count; ++string)
    count += grip[string] >= low && grip[string] <= low + board.hand - 1 ? 1 : 0;
  return count;
}

} // namespace

std::optional<int> home_hand(const Fretboard& board, theory::Key key, ChordShape shape) {
  return best_hand(board, pitch_classes(key), shape.nut, shape, std::nullopt);
}

std::optional<ChordShape> chord_shape(const Fretboard& board, const Position& home, theory::Key key,
                                      const theory::Chord& chord) {
  if (!board.shape_offset)
    return std::nullopt;
  if (home.shape && pitch_class(chord.root) == pitch_class(key.tonic) &&
      is_root(board, *home.shape, pitch_class(key.tonic)))
    return home.shape;
  // Overlap, frets sticking out, twice the distance of the centres, grip notes, nut.
  using Rank = std::tuple<int, int, int, int, int>;
  std::optional<Rank> best;
  ChordShape found;
  const ChordTones tones(chord);
  const int last = home.low + board.hand - 1;
  for (const auto& form : shape_forms())
    for (int nut = lowest_nut(board, form, tones.root); nut + form.box <= board.frets; nut += 12) {
      const int common = overlap(nut, nut + form.box, home.low, last);
      const int centres = std::abs(2 * nut + form.box - home.low - last);
      Rank rank{-common, form.box + 1 - common, centres, 0, nut};
      if (best && std::tie(std::get<0>(rank), std::get<1>(rank), std::get<2>(rank)) >
                      std::tie(std::get<0>(*best), std::get<1>(*best), std::get<2>(*best)))
        continue;
      std::get<3>(rank) =
          -notes_in_hand(board, shape_grip(board, {form.name, nut}, tones), home.low);
      if (!best || rank < *best) {
        best = rank;
        found = {form.name, nut};
      }
    }
  return best ? std::optional(found) : std::nullopt;
}

int hand_for(const Fretboard& board, const Position& home, theory::Key key,
             const std::optional<theory::Chord>& chord, const theory::NoteSet& set,
             theory::Over over, const theory::FittingTable& fitting) {
  if (home.exact)
    return home.low;
  const auto own = resolved(set, over, key, std::nullopt, fitting);
  const int centre = home.shape ? home.shape->nut : home.low;
  const int low =
      best_hand(board, pitch_classes(own.notes), centre, home.shape, home.low).value_or(home.low);
  if (over == theory::Over::key || !chord)
    return low;
  const auto moved = resolved(set, over, key, chord, fitting);
  return shifted(board, pitch_classes(moved.notes), low);
}

} // namespace landfall::neck
