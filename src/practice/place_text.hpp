#pragma once

#include "neck/position.hpp"
#include "theory/named_lines.hpp"

namespace landfall::practice {

/// `E shape`, `fret 5`, `E shape fret 16`; empty for a place that was not asked for.
std::string place_text(const neck::PlaceRequest& place);

/// Reads place_text(); the error is at its place in the file.
Result<neck::PlaceRequest> read_place(const NamedField& field);

} // namespace landfall::practice
