#pragma once

#include "neck/position.hpp"

namespace landfall::neck {

/// The hand span asked for on a keyboard: PlaceRequest's rules.
Result<Position, std::string> find_span(const Instrument& keyboard, theory::Key key,
                                        const PlaceRequest& request);

/// Every span that starts at the tonic chord's root, third or fifth, upwards.
std::vector<Position> all_spans(const Instrument& keyboard, theory::Key key);

} // namespace landfall::neck
