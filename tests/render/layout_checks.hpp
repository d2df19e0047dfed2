#pragma once

#include "render/draw.hpp"

#include <string>
#include <vector>

namespace landfall::render::checks {

// What must hold of any draw list, whatever it shows.

struct SeenText {
  const Text* text;
  Rect box; ///< As clipped.
};

/// The texts of which anything is seen; they point into the list.
inline std::vector<SeenText> visible_texts(const DrawList& list) {
  const Rect window{0, 0, list.size.width, list.size.height};
  Rect clip = window;
  std::vector<SeenText> seen;
  for (const Command& command : list.commands) {
    if (const auto* c = std::get_if<Clip>(&command))
      clip = intersection(c->rect, window);
    if (const auto* text = std::get_if<Text>(&command)) {
      const Rect box = intersection(bounds(command), clip);
      if (!box.empty())
        seen.push_back({text, box});
    }
  }
  return seen;
}

/// Texts of different blocks that meet, in words: none may.
inline std::string collisions(const DrawList& list) {
  std::string found;
  const std::vector<SeenText> seen = visible_texts(list);
  for (std::size_t a = 0; a < seen.size(); ++a)
    for (std::size_t b = a + 1; b < seen.size(); ++b)
      if (seen[a].text->block != seen[b].text->block && meet(seen[a].box, seen[b].box))
        found += seen[a].text->text + " meets " + seen[b].text->text + "; ";
  return found;
}

/// Commands that reach beyond the window, or texts outside the lane that are cut.
inline std::string strays(const DrawList& list) {
  std::string found;
  const Rect window{0, 0, list.size.width, list.size.height};
  bool clipped = false;
  for (const Command& command : list.commands) {
    if (const auto* c = std::get_if<Clip>(&command))
      clipped = c->rect != window;
    else if (!clipped && !window.holds(bounds(command)))
      found += dump({list.size, {command}});
  }
  return found;
}

} // namespace landfall::render::checks
