#include "practice/hand.hpp"
#include "practice/session.hpp"

#include <algorithm>

namespace landfall::practice {

/// Takes up the moves that have happened by `until`.
void Session::settle(Ticks until) {
  for (const auto& [at, command, by_itself] : timeline_.applied)
    if (by_itself && at > settled_ && at <= until)
      choice_ = with(std::move(choice_), command);
  settled_ = std::max(settled_, until);
}

void Session::forget_moves(Ticks after) {
  std::erase_if(timeline_.applied,
                [&](const Applied& applied) { return applied.by_itself && applied.at > after; });
}

void Session::begin_moves(const Command& command, Ticks at) {
  const auto moment = timeline_.performance.at(at);
  const int chorus = moment ? moment->stretch->chorus : next_chorus_;
  (std::holds_alternative<SetKeyMoves>(command) ? key_moves_from_ : tempo_moves_from_) = chorus;
}

void Session::move_on(int chorus, Ticks top) {
  const auto& keys = laid_.key_moves;
  const int passed = chorus - key_moves_from_;
  if (keys.every > 0 && passed > 0 && passed % keys.every == 0)
    move_key(top);
  const int steps = chorus - tempo_moves_from_;
  if (steps <= 0 || steps > laid_.tempo_moves.choruses)
    return;
  laid_.tempo = tempo_after(laid_.tempo_moves, steps);
  record(top, MoveTempo{laid_.tempo}, true);
}

void Session::move_key(Ticks top) {
  const auto& moves = laid_.key_moves;
  const auto key = next_key(moves, laid_.key);
  if (key == laid_.key)
    return;
  if (moves.instrument) {
    const auto home = home_of(*moves.instrument, laid_.key, laid_.place);
    laid_.place = kept_place(*moves.instrument, home, key);
    record(top, SetPlace{laid_.place}, true);
  }
  laid_.key = key;
  record(top, SetKey{key}, true);
}

} // namespace landfall::practice
