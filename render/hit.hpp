#pragma once

#include "render/frame.hpp"
#include "render/geometry.hpp"
#include "render/metrics.hpp"

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
  int first = 0; ///< The first row that is shown.

  bool operator==(const HitRow&) const = default;
};

/// In a text: of a field of an edit page, of its lines behind them, of a list's query.
struct HitField {
  int index = 0;
  std::size_t caret = 0; ///< The byte that the pixel means; lines are joined by line breaks.

  bool operator==(const HitField&) const = default;
};

/// On a word of the status line.
struct HitStatus {
  StatusPart part = StatusPart::title;

  bool operator==(const HitStatus&) const = default;
};

/// On a hint at the foot of the window or of a page, or on the row of a key in the help page.
struct HitHint {
  std::string hint;   ///< That one alone: `[ ] place`.
  std::size_t at = 0; ///< The byte in it.

  bool operator==(const HitHint&) const = default;
};

/// On the mark that closes a page.
struct HitClose {
  bool operator==(const HitClose&) const = default;
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

/// On a page, but on nothing of it that takes clicks.
struct HitPage {
  bool operator==(const HitPage&) const = default;
};

using Hit = std::variant<std::monostate, HitPlace, HitKey, HitBar, HitRow, HitPanel, HitReel,
                         HitScene, HitPage, HitField, HitStatus, HitHint, HitClose>;

/// The place on the reel above or below a pixel, which need not lie on it: for a drag. None where
/// the frame shows no reel. Pure.
std::optional<HitReel> reel_at(const Frame& frame, Size size, Point at);

/// What lies at a pixel of the window that shows `frame` by these fonts. Pure.
Hit hit(const Frame& frame, Size size, const TextMetrics& metrics, Point at);

} // namespace landfall::render
