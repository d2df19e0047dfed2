#pragma once

#include "render/sample_frames.hpp"

#include <initializer_list>

namespace landfall::render::samples {

/// A sample frame in a theme, at a size and a text scale.
struct At {
  std::string name;
  Frame frame;
  Size size;

  std::string words() const {
    return name + (frame.theme == Theme::stage ? " stage " : " paper ") +
           std::to_string(size.width) + "x" + std::to_string(size.height) + " x" +
           std::to_string(frame.text_scale);
  }
};

inline constexpr std::initializer_list<Size> usual_sizes{{800, 450}, {1280, 720}, {1920, 1080}};

/// Calls `visit` for each sample in both themes.
template <typename Visit>
void each_at(std::initializer_list<Size> sizes, std::initializer_list<double> scales, Visit visit) {
  for (const Named& sample : all())
    for (const Theme theme : {Theme::stage, Theme::paper})
      for (const Size size : sizes)
        for (const double scale : scales) {
          At at{sample.name, sample.frame, size};
          at.frame.theme = theme;
          at.frame.text_scale = scale;
          visit(at);
        }
}

inline void brighten(std::variant<Neck, Keyboard>& board) {
  std::visit(
      [](auto& b) {
        for (auto& note : b.sounding)
          note.brightness = 1.0;
        if constexpr (requires { b.places; })
          for (Place& place : b.places)
            place.mark.brightness = 1.0;
        else
          for (Key& key : b.keys)
            key.mark.brightness = 1.0;
      },
      board);
}

/// Without fading, and without notes that ring off.
inline Frame at_full_brightness(Frame frame) {
  brighten(frame.board);
  if (frame.other)
    brighten(frame.other->board);
  return frame;
}

} // namespace landfall::render::samples
