#include "trade/turns.hpp"

namespace landfall::trade {

std::optional<Ticks> bars_later(const song::Performance& performance, Ticks from, int bars) {
  for (int bar = 0; bar < bars; ++bar) {
    if (from >= performance.end())
      return std::nullopt;
    from = performance.bar_line_from(from + Ticks{1});
  }
  return from;
}

std::optional<Turn> turn_from(const song::Performance& performance, Ticks from, int number,
                              const Division& division) {
  Turn turn;
  turn.number = number;
  turn.call = performance.bar_line_from(from);
  const bool calls = number > 0 || !division.player_begins;
  const auto answer = bars_later(performance, turn.call, calls ? division.call_bars : 0);
  if (!answer)
    return std::nullopt;
  turn.answer = *answer;
  const auto moment = performance.at(turn.answer);
  const auto end = bars_later(performance, turn.answer, division.answer_bars);
  if (!moment || !end)
    return std::nullopt;
  turn.end = *end;
  turn.beat = song::beat_length(moment->bar->meter);
  return turn;
}

} // namespace landfall::trade
