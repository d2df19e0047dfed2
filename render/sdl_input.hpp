#pragma once

#include "render/input.hpp"

#include <vector>

union SDL_Event;

namespace landfall::render {

/// Adds what an event means, if it means anything here. `units` is the window in the desktop's
/// units, `pixels` the picture. Text that follows its key is put into the key's press.
void append_input(const SDL_Event& event, Size units, Size pixels, std::vector<Input>& inputs);

/// SDL's number of the window that a mouse or window event is about; 0 for any other.
std::uint32_t window_of(const SDL_Event& event);

/// After this event nothing that was painted before can be relied on.
bool pictures_lost(const SDL_Event& event);

} // namespace landfall::render
