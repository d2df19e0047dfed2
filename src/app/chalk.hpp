#pragma once

#include "app/board_moment.hpp"
#include "render/hit.hpp"

#include <set>

namespace landfall::app {

/// What a click, or a note that is played, does with a place.
enum class ChalkMode : std::uint8_t { down, points, hides };

/// What a teacher drew on the board. Places stay where they are when the chord changes. A value.
struct Chalk {
  std::set<PlaceKey> pointed; ///< A ring around each.
  std::set<PlaceKey> hidden;
  std::set<PlaceKey> shown; ///< Though nothing would be lit there.
  std::vector<render::Circle> circles;

  bool empty() const {
    return pointed.empty() && hidden.empty() && shown.empty() && circles.empty();
  }
  bool operator==(const Chalk&) const = default;
};

/// Points at a place, or no longer.
void point_at(Chalk& chalk, PlaceKey place);

/// Hides what is `lit` at a place, shows one that is not; done once more, it is as before.
void hide_or_show(Chalk& chalk, PlaceKey place, bool lit);

/// Around the places between two corners.
void circle(Chalk& chalk, PlaceKey from, PlaceKey to);

/// Draws it over a board of that moment.
void draw(const Chalk& chalk, const BoardMoment& moment, const Look& look,
          std::variant<render::Neck, render::Keyboard>& board);

/// The place that was hit; none beside the board.
std::optional<PlaceKey> place_of(const render::Hit& hit);

/// Whether a board shows something at a place.
bool is_lit(const std::variant<render::Neck, render::Keyboard>& board, PlaceKey place);

} // namespace landfall::app
