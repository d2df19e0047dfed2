#pragma once

#include "neck/label.hpp"
#include "practice/fading.hpp"
#include "render/frame.hpp"

namespace landfall::app {

inline constexpr int label_kinds = 5;

/// How the window shows things: remembered from one start to the next.
struct Look {
  render::Theme theme = render::Theme::stage;
  double text_scale = 1.0;                          ///< 0.75 to 2.
  neck::LabelKind labels = neck::LabelKind::degree; ///< What is written on the board.
  bool landing = true;      ///< Landing notes filled; else they are notes of the set like others.
  bool set_notes = true;    ///< The set's other notes.
  bool chord_tones = false; ///< All chord tones outside the set too, and not only the guide tones.
  bool grip = false;        ///< The grip of the chord's shape.
  int grip_number = 0;      ///< Another grip in its place, from 1, best first; 0 for none.
  int groups = 0;           ///< 0 none; n: on strings n to n+2; beyond the lowest such set: all.
  practice::FadingSpeed fading = practice::FadingSpeed::off; ///< Of landing notes.
  bool whole_board = false;
  bool neck_only = false; ///< Only the board and the chord, large; not remembered.
  bool true_spacing = false;
  bool left_handed = false;
  bool seen_by_player = false;

  bool operator==(const Look&) const = default;
};

} // namespace landfall::app
