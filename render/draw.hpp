#pragma once

#include "render/color.hpp"
#include "render/geometry.hpp"
#include "render/metrics.hpp"

#include <cstdint>
#include <string>
#include <variant>
#include <vector>

namespace landfall::render {

// What the executor can do. Centres are pixel corners, so that an even diameter is symmetrical.

struct Fill {
  Rect rect;
  Color color;

  bool operator==(const Fill&) const = default;
};

struct Disc {
  Point center;
  float radius = 0;
  Color color;

  bool operator==(const Disc&) const = default;
};

struct Ring {
  Point center;
  float radius = 0; ///< To the middle of the stroke.
  float stroke = 1;
  Color color;

  bool operator==(const Ring&) const = default;
};

/// Clockwise from twelve o'clock.
struct Arc {
  Point center;
  float radius = 0;
  float stroke = 1;
  int sweep = 0; ///< 0 to full_sweep.
  Color color;

  bool operator==(const Arc&) const = default;
};

inline constexpr int full_sweep = 720;

/// With round ends.
struct Line {
  Point from;
  Point to;
  float stroke = 1;
  Color color;

  bool operator==(const Line&) const = default;
};

/// One run in one font.
struct Text {
  Face face = Face::regular;
  int size = 0; ///< Em in pixels.
  Point at;     ///< Left end of the baseline.
  Extent extent;
  Color color;
  int block = 0; ///< Runs of the same block belong together.
  std::string text;

  bool operator==(const Text&) const = default;
};

/// Holds for the commands that follow.
struct Clip {
  Rect rect;

  bool operator==(const Clip&) const = default;
};

using Command = std::variant<Fill, Disc, Ring, Arc, Line, Text, Clip>;

struct DrawList {
  Size size;
  std::vector<Command> commands;

  bool operator==(const DrawList&) const = default;
};

/// The room that a command takes in the layout; a clip takes none.
Rect bounds(const Command& command);

/// All pixels that it may touch: accents and overhanging strokes reach beyond a text's measured
/// box.
Rect painted_bounds(const Command& command);

/// One line a command, in plain ASCII, for approved texts.
std::string dump(const DrawList& list);

} // namespace landfall::render
