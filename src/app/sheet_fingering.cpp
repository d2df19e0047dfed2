#include "app/sheet_fingering.hpp"

#include <algorithm>
#include <cmath>

namespace landfall::app::sheet {
namespace {

// What a place costs the hand; only their order matters.
constexpr double reach = 1, outside = 4, each_fret = 0.1, each_string = 0.12, open_bend = 6;
constexpr double same_string = 50, far_from_home = 0.06, high_fret = 0.05;
constexpr int high = 12;

double place_cost(const neck::Fretboard& board, int low, int fret) {
  const auto under = board.under(low);
  if (fret == 0 || under.hand.contains(fret))
    return fret == 0 && low > 0 ? reach : 0;
  if (under.reached(fret))
    return reach;
  return outside + std::abs(fret - low);
}

bool own_place_sounds(const neck::Fretboard& board, const trade::PhraseNote& note) {
  return note.string && note.fret && *note.string >= 1 && *note.string <= board.count &&
         board.pitch(board.count - *note.string, *note.fret) == note.midi.number;
}

/// Goes through the phrase with one hand.
class Hand {
public:
  Hand(const trade::Phrase& phrase, const neck::Fretboard& board, int low)
      : phrase_(phrase), board_(board), low_(low) {}

  /// None where a note is not on the board.
  std::optional<Fingering> run() {
    for (std::size_t i = 0; i < phrase_.notes.size(); ++i)
      if (!take(i))
        return std::nullopt;
    return std::move(all_);
  }

private:
  bool take(std::size_t index) {
    const auto& note = phrase_.notes[index];
    std::optional<Stop> best;
    double least = 0;
    for (int string = 0; string < board_.count; ++string)
      for (int fret = 0; fret <= board_.frets; ++fret) {
        if (board_.pitch(string, fret) != note.midi.number)
          continue;
        const Stop stop{board_.number(string), fret};
        const double cost = cost_of(index, stop);
        if (!best || cost < least) {
          best = stop;
          least = cost;
        }
      }
    if (own_place_sounds(board_, note)) {
      best = Stop{*note.string, *note.fret};
      least = place_cost(board_, low_, *note.fret);
    }
    if (best) {
      all_.stops.push_back(*best);
      all_.cost += least;
    }
    return best.has_value();
  }

  double cost_of(std::size_t index, const Stop& stop) const {
    const auto& note = phrase_.notes[index];
    double cost = place_cost(board_, low_, stop.fret) + high_fret * std::max(stop.fret - high, 0);
    if (note.bend_cents && stop.fret == 0)
      cost += open_bend;
    if (index == 0)
      return cost;
    const auto& before = all_.stops.back();
    cost += each_fret * std::abs(stop.fret - before.fret) +
            each_string * std::abs(stop.string - before.string);
    for (std::size_t i = index; i-- > 0 && phrase_.notes[i].start == note.start;)
      cost += all_.stops[i].string == stop.string ? same_string : 0;
    return cost;
  }

  const trade::Phrase& phrase_;
  const neck::Fretboard& board_;
  int low_;
  Fingering all_;
};

} // namespace

Result<Fingering, std::string> fingering_of(const trade::Phrase& phrase,
                                            const neck::Fretboard& board, std::optional<int> hand,
                                            int home) {
  std::optional<Fingering> best;
  for (int low = hand.value_or(0); low <= hand.value_or(board.frets); ++low) {
    auto fingering = Hand(phrase, board, low).run();
    if (!fingering)
      continue;
    fingering->cost += far_from_home * std::abs(low - home);
    if (!best || fingering->cost < best->cost)
      best = std::move(fingering);
  }
  if (best)
    return *std::move(best);
  for (const auto& note : phrase.notes) {
    bool there = false;
    for (int string = 0; string < board.count; ++string)
      for (int fret = 0; fret <= board.frets; ++fret)
        there = there || board.pitch(string, fret) == note.midi.number;
    if (!there)
      return "the phrase does not fit the instrument, which has no " +
             ascii(note.midi, signature(phrase.key) < 0);
  }
  return std::string("the phrase does not fit the instrument");
}

} // namespace landfall::app::sheet
