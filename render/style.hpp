#pragma once

#include "render/color.hpp"
#include "render/frame.hpp"
#include "render/geometry.hpp"

#include <algorithm>
#include <cmath>

namespace landfall::render {

// The look, all of it: palette, type scale, spacing. Lengths are pixels at 1080 lines; Scale turns
// them into pixels of the window.

struct Palette {
  Color ground, panel, board, hand;
  Color text, quiet;
  Color hairline;
  Color sand, on_sand;        ///< What is safe now and what was right; the label on it.
  Color tide;                 ///< What is coming, and the call.
  Color sand_text, tide_text; ///< The two hues as words: of more contrast where that is needed.
  Color sounding;
  Color string;                    ///< Of the neck.
  Color black_key, black_key_hand; ///< Far enough from sand and tide in either theme.
};

inline constexpr Palette stage_palette{
    .ground = rgb(0x11161C),
    .panel = rgb(0x171E26),
    .board = rgb(0x1C242D),
    .hand = rgb(0x26313C),
    .text = rgb(0xF1ECE2),
    .quiet = rgb(0xA6B1BB),
    .hairline = rgb(0x36424E),
    .sand = rgb(0xF4B942),
    .on_sand = rgb(0x1A1408),
    .tide = rgb(0x63C7DA),
    .sand_text = rgb(0xF4B942),
    .tide_text = rgb(0x63C7DA),
    .sounding = rgb(0xFFFFFF),
    .string = rgb(0x76818D),
    .black_key = rgb(0x0B0F14),
    .black_key_hand = rgb(0x141A21),
};

inline constexpr Palette paper_palette{
    .ground = rgb(0xF6F2EA),
    .panel = rgb(0xECE6DA),
    .board = rgb(0xE7E0D2),
    .hand = rgb(0xFBF8F2),
    .text = rgb(0x1B1E22),
    .quiet = rgb(0x444B52),
    .hairline = rgb(0xC3BBAA),
    .sand = rgb(0x8A4600),
    .on_sand = rgb(0xFFFFFF),
    .tide = rgb(0x12566E),
    .sand_text = rgb(0x753A00),
    .tide_text = rgb(0x0F5067),
    .sounding = rgb(0x101418),
    .string = rgb(0x8B867C),
    .black_key = rgb(0xBDB3A0),
    .black_key_hand = rgb(0xC9C0AE),
};

constexpr const Palette& palette(Theme theme) {
  return theme == Theme::stage ? stage_palette : paper_palette;
}

namespace type {
inline constexpr double title = 28;
inline constexpr double body = 26;
inline constexpr double small = 22;
inline constexpr double page_title = 40;
inline constexpr double chord = 60;
inline constexpr double present_chord = 76;
inline constexpr double scene_chord = 200;
inline constexpr double scene_text = 44; ///< Read from ten metres, as all of a scene is.
inline constexpr double scene_line = 60;
inline constexpr double bare_chord = 260; ///< With nothing but the board beside it.
inline constexpr double least = 11;       ///< Pixels of the window, whatever its size.
inline constexpr int least_label = 7;     ///< In a disc; smaller ones are left out.
inline constexpr double line = 1.36;      ///< Line height of running text, of its size.

// Within a chord symbol, of the root's size.
inline constexpr double accidental = 0.70;
inline constexpr double accidental_raise = 0.27;
inline constexpr double quality = 0.5;
inline constexpr double bass = 0.62;
inline constexpr double stacked = 0.44;      ///< Quality below the root, where room is short.
inline constexpr double stacked_drop = 0.56; ///< Of its baseline.
inline constexpr double chord_gap = 0.03;
// Pixels of the window: the least of a root whose quality can still be read, and of one alone.
inline constexpr int least_in_line = 16;
inline constexpr int least_stacked = 19;
inline constexpr int least_root = 8;

// The signs come from another font, whose signs are drawn small.
inline constexpr double sign = 1.2;
inline constexpr double sharp_raise = 0.09;
} // namespace type

namespace space {
inline constexpr double margin = 48;
inline constexpr double hair = 2;
inline constexpr double small = 8;
inline constexpr double medium = 16;
inline constexpr double large = 32;
inline constexpr double beat = 82;    ///< Width of a beat in the lane.
inline constexpr int least_beat = 40; ///< Pixels of the window.
inline constexpr double row = 12;     ///< Above and below the text of a list's row.
} // namespace space

inline constexpr double fixed_line = 0.23; ///< Of the width.

namespace neck_style { // of the space between two strings, or of a fret where that is less
inline constexpr double disc = 0.36;
inline constexpr double arc = 0.45;
inline constexpr double set = 0.155;
inline constexpr double chord = 0.31;
inline constexpr double reach = 0.78;       ///< Of the usual radius.
inline constexpr double least_reach = 17.5; ///< Pixels that a unit by reach stands for at least.
inline constexpr double halo = 0.54;
inline constexpr double outer_halo = 0.63;
/// Of what sounds outside chord and set.
inline constexpr double outside_halo = 0.34;
inline constexpr double circle = 0.56; ///< Of a circle by chalk, around a place's middle.
inline constexpr double label = 0.92;  ///< Of the disc's radius.
inline constexpr double rim = 0.055;   ///< Of a grip's notes.
/// Of the usual radius: what lies within a rim, so that the two stay apart.
inline constexpr double in_rim = 0.86;
/// Half the side of the frame around a note of the call.
inline constexpr double frame = 0.54;
inline constexpr double barre = 0.3;
inline constexpr double barre_edge = 0.04;
inline constexpr double barre_share = 0.24; ///< Of text in its colour.
inline constexpr double cross = 0.11;       ///< Half its side.
inline constexpr double join = 0.024;       ///< Of a group.
inline constexpr double focused_join = 0.06;
inline constexpr double dot = 0.1; ///< Where a group has a note that is not lit.
} // namespace neck_style

/// Turns lengths at 1080 lines into pixels. A window narrower than 4:3 counts by its width.
class Scale {
public:
  Scale(Size window, double text_scale)
      : unit_(std::min(window.height / 1080.0, window.width / 1440.0)),
        text_(between(0.75, text_scale, 2.0)) {}

  /// A length; at least `least` pixels.
  int px(double length, int least = 0) const {
    return std::max(least, static_cast<int>(std::lround(length * unit_)));
  }
  float exact(double length) const { return static_cast<float>(length * unit_); }

  /// Size of running text.
  int text(double size) const {
    return static_cast<int>(std::lround(std::max(size * unit_ * text_, type::least)));
  }
  /// Size of display text, which follows the text scale less far.
  int display(double size) const {
    return static_cast<int>(std::lround(std::max(size * unit_ * display_share(), type::least)));
  }
  /// A space around text: the larger the text, the less of it, so that the board keeps its room.
  int pad(double length) const { return px(length / std::max(text_, 1.0)); }
  /// How far display text follows the text scale.
  double display_share() const {
    return text_ > 1.0 ? 1.0 + (text_ - 1.0) * 0.4 : 0.6 + text_ * 0.4;
  }
  /// Size of a label relative to its disc.
  double label_share() const { return neck_style::label * std::clamp(0.6 + text_ * 0.4, 0.9, 1.2); }

  static int line(int text_size) { return static_cast<int>(std::lround(text_size * type::line)); }

private:
  double unit_;
  double text_;
};

} // namespace landfall::render
