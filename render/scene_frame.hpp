#pragma once

#include "render/chord_text.hpp"

#include <string>

namespace landfall::render {

/// What a teacher circles on a board: the places between two corners, both included. On a keyboard
/// the strings are 0 and the frets MIDI notes.
struct Circle {
  int from_string = 0;
  int from_fret = 0;
  int to_string = 0;
  int to_fret = 0;

  bool operator==(const Circle&) const = default;
};

/// A lesson's scene, in place of the lane.
struct Scene {
  std::string count; ///< `4 of 12`
  std::string title; ///< Of the scene.
  ChordText chord;
  std::string about;  ///< `E shape in the same hand`
  std::string coming; ///< `coming: B♭7 in 2 beats`
  std::string line;   ///< The line to say, below the board.
  bool bare = false;  ///< Only chord and board are drawn, as large as there is room.
  bool lane = false;  ///< The lane stays above the board (Trade); the line stands in the footer.

  bool operator==(const Scene&) const = default;
};

} // namespace landfall::render
