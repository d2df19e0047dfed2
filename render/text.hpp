#pragma once

#include "render/draw.hpp"

#include <string>
#include <string_view>

namespace landfall::render {

/// How a text is set.
struct Setting {
  Face face = Face::regular;
  int size = 0;
  Color color;
};

enum class Align : std::uint8_t { left, middle, right };

/// Builds a draw list; texts change the font by themselves at ♭ ♯ ♮.
class Pen {
public:
  Pen(Size size, const TextMetrics& metrics) : metrics_(metrics) { list_.size = size; }

  template <typename C> void add(C command) { list_.commands.emplace_back(std::move(command)); }

  void fill(const Rect& rect, Color color) {
    if (!rect.empty())
      add(Fill{rect, color});
  }

  /// Width of the text as set.
  int width(const Setting& setting, std::string_view text) const;
  /// Height of a capital.
  int cap(const Setting& setting) const;
  const TextMetrics& metrics() const { return metrics_; }

  /// Sets `text` with its baseline at `at`, as one block. Returns its width.
  int write(const Setting& setting, Point at, std::string_view text, Align align = Align::left);

  /// The same, shortened with an ellipsis to `room` pixels.
  int write_within(const Setting& setting, Point at, std::string_view text, int room,
                   Align align = Align::left);

  /// The same, with the capitals' middle at the height of `at`.
  int write_centred(const Setting& setting, Point at, std::string_view text,
                    Align align = Align::left);

  /// Shortened with an ellipsis to `room` pixels; empty when not even that fits.
  std::string shortened(const Setting& setting, std::string_view text, int room) const;

  /// Sets `text` as a further part of the present block. Returns its width.
  int write_on(const Setting& setting, Point at, std::string_view text);
  void next_block() { ++block_; }

  DrawList take() { return std::move(list_); }
  Size size() const { return list_.size; }

private:
  void run(Face face, int size, Point at, Color color, std::string_view text);
  template <typename Visit>
  void each_run(const Setting& setting, std::string_view text, Visit visit) const;

  const TextMetrics& metrics_;
  DrawList list_;
  int block_ = 0;
};

/// Breaks at spaces into lines of at most `room` pixels.
std::vector<std::string> wrapped(const Pen& pen, const Setting& setting, std::string_view text,
                                 int room);

} // namespace landfall::render
