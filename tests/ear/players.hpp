#pragma once

#include "ear/stage.hpp"

#include <random>

/// Modelled players: what they play over a ground depends on the seed alone.
namespace landfall::test {

/// Strikes notes of the key's scale at random, one every `step`, over a range of two octaves.
std::vector<ear::Event> aimless(const ear::Ground& ground, theory::Key key, Ticks step,
                                unsigned seed);

/// Lands on a random chord tone at each change, a few milliseconds off, and plays the scale
/// between.
std::vector<ear::Event> perfect(const ear::Ground& ground, theory::Key key, unsigned seed);

/// Everything that can come over a cable, in any order: chords, bends, pedals, offs without ons.
std::vector<ear::Event> wild(Ticks end, unsigned seed);

} // namespace landfall::test
