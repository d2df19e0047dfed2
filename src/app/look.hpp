#pragma once

#include "render/frame.hpp"

namespace landfall::app {

/// What labels on the board say.
enum class Labels : std::uint8_t { degree, key_degree, note, none };

/// How the window shows things: remembered from one start to the next.
struct Look {
  render::Theme theme = render::Theme::stage;
  double text_scale = 1.0; ///< 0.75 to 2.
  Labels labels = Labels::degree;
  bool whole_board = false;
  bool chord_tones = false; ///< All chord tones outside the set too, and not only the guide tones.
  bool true_spacing = false;
  bool left_handed = false;
  bool seen_by_player = false;

  bool operator==(const Look&) const = default;
};

} // namespace landfall::app
