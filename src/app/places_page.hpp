#pragma once

#include "app/frame_builder.hpp"
#include "neck/position.hpp"

namespace landfall::app {

/// The places of a key from the lowest: each shape once, or every place where there are no shapes.
std::vector<neck::Position> places_of(const neck::Instrument& instrument, theory::Key key);

/// The page that shows the present chord in every place of the key.
render::PlacesPage build_places(const FrameInput& input);

/// The place that a panel of it stands for; none if there is no such panel.
std::optional<neck::Position> place_of_panel(const FrameInput& input, int index);

} // namespace landfall::app
