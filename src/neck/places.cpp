#include "neck/places.hpp"

#include <algorithm>
#include <bitset>
#include <tuple>

namespace landfall::neck {
namespace {

using Pitches = std::bitset<128>;

std::size_t at(int index) {
  return static_cast<std::size_t>(index);
}

/// All ways to play the set's pitches, before one is chosen for each.
class Search {
public:
  Search(const Fretboard& board, PitchClasses set, PitchClasses chord, int low)
      : board_(board), set_(set), chord_(chord), under_(board.under(low)) {
    collect();
    if (board_.reentrant)
      chosen_ = in_hand_;
    else
      choose_in_hand();
    choose_by_reach();
    std::sort(chosen_.begin(), chosen_.end(), [](const Place& a, const Place& b) {
      return std::tie(a.string, a.fret) < std::tie(b.string, b.fret);
    });
  }

  std::vector<Place> take() { return std::move(chosen_); }

private:
  void collect() {
    in_hand_.reserve(32);
    by_reach_.reserve(24);
    for (int string = 0; string < board_.count; ++string) {
      add(string, under_.below, true);
      add(string, under_.hand, false);
      add(string, under_.above, true);
    }
  }

  void add(int string, FretRange range, bool reach) {
    for (int fret = range.first; fret <= range.last; ++fret) {
      const auto pitch = board_.pitch(string, fret);
      if (!pitch || !has(set_, *pitch))
        continue;
      (reach ? by_reach_ : in_hand_).push_back({string, fret, *pitch, reach});
      if (!reach) {
        pitches_in_hand_.set(at(*pitch));
        ++notes_in_hand_[at(string)];
      }
    }
  }

  /// Of each pitch the best candidate by `rank`, a tuple: the lowest wins.
  template <typename Rank> void choose(std::vector<Place>& candidates, Rank rank) {
    std::sort(candidates.begin(), candidates.end(), [&](const Place& a, const Place& b) {
      return a.pitch != b.pitch ? a.pitch < b.pitch : rank(a) < rank(b);
    });
    int last = -1;
    for (const auto& place : candidates)
      if (place.pitch != last) {
        chosen_.push_back(place);
        last = place.pitch;
      }
  }

  void choose_in_hand() {
    chosen_.reserve(in_hand_.size() + by_reach_.size());
    choose(in_hand_, [&](const Place& place) {
      return std::tuple(place.fret > 0, notes_in_hand_[at(place.string)], place.fret, place.string);
    });
    for (const auto& place : chosen_)
      string_of_[at(place.pitch)] = place.string + 1;
  }

  void choose_by_reach() {
    if (board_.reentrant)
      for (const auto& place : in_hand_)
        string_of_[at(place.pitch)] = place.string + 1;
    std::erase_if(by_reach_, [&](const Place& p) { return pitches_in_hand_.test(at(p.pitch)); });
    choose(by_reach_, [&](const Place& place) {
      return std::tuple(-neighbour_rank(place), notes_in_hand_[at(place.string)],
                        under_.above.contains(place.fret), place.fret, place.string);
    });
  }

  /// How well a half-step neighbour on the same string speaks for a place; 0 if there is none.
  int neighbour_rank(const Place& place) const {
    const auto rank = [&](int pitch, int base) {
      if (pitch < 0 || pitch > 127 || string_of_[at(pitch)] != place.string + 1)
        return 0;
      return has(chord_, pitch) ? base + 2 : base;
    };
    return std::max(rank(place.pitch + 1, 2), rank(place.pitch - 1, 1));
  }

  const Fretboard& board_;
  PitchClasses set_, chord_;
  HandFrets under_;
  std::vector<Place> in_hand_, by_reach_, chosen_;
  Pitches pitches_in_hand_;
  std::array<int, max_strings> notes_in_hand_{};
  std::array<int, 128> string_of_{}; ///< Of pitches placed in the hand: string + 1.
};

Pitches pitches(const Fretboard& board, PitchClasses set, FretRange range) {
  Pitches found;
  for (int string = 0; string < board.count; ++string)
    for (int fret = range.first; fret <= range.last; ++fret)
      if (const auto pitch = board.pitch(string, fret); pitch && has(set, *pitch))
        found.set(at(*pitch));
  return found;
}

} // namespace

std::vector<Place> places(const Fretboard& board, PitchClasses set, PitchClasses chord, int low) {
  return Search(board, set, chord, low).take();
}

int count_reaches(const Fretboard& board, PitchClasses set, int low) {
  const auto under = board.under(low);
  const auto reached = pitches(board, set, under.below) | pitches(board, set, under.above);
  return static_cast<int>((reached & ~pitches(board, set, under.hand)).count());
}

} // namespace landfall::neck
