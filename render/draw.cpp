#include "render/draw.hpp"

#include <cmath>
#include <cstdio>

namespace landfall::render {

namespace {

Rect around(Point center, float radius) {
  const int reach = static_cast<int>(std::ceil(radius)) + 1;
  return {center.x - reach, center.y - reach, 2 * reach, 2 * reach};
}

struct Bounds {
  Rect operator()(const Fill& c) const { return c.rect; }
  Rect operator()(const Disc& c) const { return around(c.center, c.radius); }
  Rect operator()(const Ring& c) const { return around(c.center, c.radius + c.stroke / 2); }
  Rect operator()(const Arc& c) const { return around(c.center, c.radius + c.stroke / 2); }
  Rect operator()(const Line& c) const {
    const int reach = static_cast<int>(std::ceil(c.stroke / 2)) + 1;
    return from_edges(std::min(c.from.x, c.to.x), std::min(c.from.y, c.to.y),
                      std::max(c.from.x, c.to.x), std::max(c.from.y, c.to.y))
        .inset(-reach, -reach);
  }
  Rect operator()(const Text& c) const {
    return {c.at.x, c.at.y - c.extent.ascent, c.extent.width, c.extent.ascent + c.extent.descent};
  }
  Rect operator()(const Clip&) const { return {}; }
};

template <typename... Values> std::string line(const char* format, Values... values) {
  char buffer[160];
  std::snprintf(buffer, sizeof buffer, format, values...);
  return buffer;
}

/// Quoted; what is not printable ASCII appears as \u{hex}.
std::string quoted(std::string_view text) {
  std::string out = "\"";
  for (std::size_t i = 0; i < text.size();) {
    const auto lead = static_cast<unsigned char>(text[i]);
    const std::size_t length = lead < 0x80 ? 1 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : 4;
    unsigned value = length == 1 ? lead : lead & (0xFFU >> (length + 1));
    for (std::size_t k = 1; k < length && i + k < text.size(); ++k)
      value = (value << 6) | (static_cast<unsigned char>(text[i + k]) & 0x3FU);
    out += value >= 0x20 && value < 0x7F ? std::string(1, static_cast<char>(value))
                                         : line("\\u{%X}", value);
    i += length;
  }
  return out + '"';
}

struct Dump {
  std::string operator()(const Fill& c) const {
    return line("fill %d,%d %dx%d #%06X", c.rect.x, c.rect.y, c.rect.width, c.rect.height,
                packed(c.color));
  }
  std::string operator()(const Disc& c) const {
    return line("disc %d,%d r%.1f #%06X", c.center.x, c.center.y, double{c.radius},
                packed(c.color));
  }
  std::string operator()(const Ring& c) const {
    return line("ring %d,%d r%.1f/%.1f #%06X", c.center.x, c.center.y, double{c.radius},
                double{c.stroke}, packed(c.color));
  }
  std::string operator()(const Arc& c) const {
    return line("arc %d,%d r%.1f/%.1f %d/%d #%06X", c.center.x, c.center.y, double{c.radius},
                double{c.stroke}, c.sweep, full_sweep, packed(c.color));
  }
  std::string operator()(const Line& c) const {
    return line("line %d,%d %d,%d s%.1f #%06X", c.from.x, c.from.y, c.to.x, c.to.y,
                double{c.stroke}, packed(c.color));
  }
  std::string operator()(const Text& c) const {
    static constexpr const char* faces[] = {"regular", "semibold", "bold", "music", "music-bold"};
    return line("text %d,%d %s %d #%06X ", c.at.x, c.at.y, faces[static_cast<int>(c.face)], c.size,
                packed(c.color)) +
           quoted(c.text);
  }
  std::string operator()(const Clip& c) const {
    return line("clip %d,%d %dx%d", c.rect.x, c.rect.y, c.rect.width, c.rect.height);
  }
};

} // namespace

Rect bounds(const Command& command) {
  return std::visit(Bounds{}, command);
}

Rect painted_bounds(const Command& command) {
  const auto* text = std::get_if<Text>(&command);
  return text == nullptr ? bounds(command)
                         : bounds(command).inset(-text->size / 3, -text->size / 3);
}

std::string dump(const DrawList& list) {
  std::string out = line("size %dx%d\n", list.size.width, list.size.height);
  for (const Command& command : list.commands)
    out += std::visit(Dump{}, command) + '\n';
  return out;
}

} // namespace landfall::render
