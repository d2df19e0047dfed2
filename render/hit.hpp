#pragma once

#include "render/frame.hpp"
#include "render/geometry.hpp"

#include <optional>
#include <variant>

namespace landfall::render {

struct HitPlace {
  int string = 1; ///< 1 is the highest.
  int fret = 0;

  bool operator==(const HitPlace&) const = default;
};

struct HitKey {
  int midi = 60;

  bool operator==(const HitKey&) const = default;
};

struct HitBar {
  std::uint32_t tag = 0; ///< Of the bar.
  double beat = 0.0;     ///< In beats from its bar line.

  bool operator==(const HitBar&) const = default;
};

struct HitRow {
  int index = 0; ///< Into the list page's rows.

  bool operator==(const HitRow&) const = default;
};

struct HitPanel {
  int index = 0; ///< Into the places page's panels.

  bool operator==(const HitPanel&) const = default;
};

struct HitReel {
  double at = 0.0; ///< 0 to 1 of the take.

  bool operator==(const HitReel&) const = default;
};

/// On a lesson's words: its head, or the left or right half of its line.
struct HitScene {
  enum class Part : std::uint8_t { scenes, back, next };
  Part part = Part::scenes;

  bool operator==(const HitScene&) const = default;
};

/// On a page, but on none of its rows or panels.
struct HitPage {
  bool operator==(const HitPage&) const = default;
};

using Hit = std::variant<std::monostate, HitPlace, HitKey, HitBar, HitRow, HitPanel, HitReel,
                         HitScene, HitPage>;

/// The place on the reel above or below a pixel, which need not lie on it: for a drag. None where
/// the frame shows no reel. Pure.
std::optional<HitReel> reel_at(const Frame& frame, Size size, Point at);

/// What lies at a pixel of the window that shows `frame`. Pure.
Hit hit(const Frame& frame, Size size, Point at);

} // namespace landfall::render
