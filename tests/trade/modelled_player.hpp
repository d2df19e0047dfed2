#pragma once

#include "trade/call_chance.hpp"
#include "trade/phrase.hpp"

namespace landfall::trade::testing {

/// How hard a call is for anyone: its length to remember, its notes a second, leaps, notes from
/// outside, and places off the beat. Our own model; nothing in the program knows it.
double hardness(const Phrase& call, Tempo tempo);

/// Echoes a call: each note is right with a probability that falls as the call gets harder than the
/// player is skilled. Gives the share of notes that are right.
struct ModelledPlayer {
  double skill = 2.0;

  double answer(const Phrase& call, Tempo tempo, Chance& chance) const;
};

} // namespace landfall::trade::testing
