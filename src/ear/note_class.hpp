#pragma once

#include "ear/strike.hpp"
#include "ear/verdict.hpp"

namespace landfall::ear {

/// The class of every note of a line, in its order. A chord tone that is not aimed at counts as one
/// of the set. The last strike before a change, inside its window, belongs to the coming chord.
/// Outside notes are approaches where, within a beat, they resolve to a chord tone by step, by a
/// chain of half steps or as the first half of an enclosure, or pass by half steps between two
/// notes of the set.
std::vector<NoteClass> classes_of(const Ground& ground, const Line& line, const Settings& settings);

/// From when on the class and the timing of a note are known for good.
Ticks note_final_at(const Ground& ground, Ticks onset, const Settings& settings = {});

} // namespace landfall::ear
