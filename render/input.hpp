#pragma once

#include "render/geometry.hpp"

#include <cstdint>
#include <string>
#include <variant>

namespace landfall::render {

// What the player does to the window, as plain data. Positions are pixels of the picture.

/// A key went down.
struct KeyPress {
  std::string name; ///< The key as its layout names it: `A`, `Space`, `Left`, `F11`, `[`.
  std::string text; ///< What it types, if anything: `a`, `?`, ` `.
  bool shift = false;
  bool control = false;
  bool alt = false;
  bool repeated = false; ///< Held down.

  bool operator==(const KeyPress&) const = default;
};

struct KeyRelease {
  std::string name;

  bool operator==(const KeyRelease&) const = default;
};

/// Text from an input method or a paste, not typed by one key.
struct TypedText {
  std::string text;

  bool operator==(const TypedText&) const = default;
};

enum class MouseButton : std::uint8_t { left, middle, right };

struct MousePress {
  Point at;
  MouseButton button = MouseButton::left;
  int clicks = 1;

  bool operator==(const MousePress&) const = default;
};

struct MouseRelease {
  Point at;
  MouseButton button = MouseButton::left;

  bool operator==(const MouseRelease&) const = default;
};

struct MouseMove {
  Point at;

  bool operator==(const MouseMove&) const = default;
};

struct MouseWheel {
  Point at;
  int steps = 0; ///< Positive away from the player.

  bool operator==(const MouseWheel&) const = default;
};

struct FileDropped {
  std::string path;

  bool operator==(const FileDropped&) const = default;
};

/// The picture has another size now.
struct Resized {
  Size size;

  bool operator==(const Resized&) const = default;
};

/// The window needs its picture again, even an unchanged one.
struct Exposed {
  bool operator==(const Exposed&) const = default;
};

/// Keys that are down will not be seen to go up.
struct FocusLost {
  bool operator==(const FocusLost&) const = default;
};

struct CloseAsked {
  bool operator==(const CloseAsked&) const = default;
};

using Input = std::variant<KeyPress, KeyRelease, TypedText, MousePress, MouseRelease, MouseMove,
                           MouseWheel, FileDropped, Resized, Exposed, FocusLost, CloseAsked>;

} // namespace landfall::render
