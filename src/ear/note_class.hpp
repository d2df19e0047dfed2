#pragma once

#include "ear/strike.hpp"

namespace landfall::ear {

/// The class of every pitch in the order of the strikes; of a note, that of its onset counts.
/// A note that is the last before a change, and inside its window, belongs to the coming chord.
std::vector<NoteClass> classes_of(const Ground& ground, std::span<const HeardNote> notes,
                                  const Settings& settings);

} // namespace landfall::ear
