#include "render/reel.hpp"

#include <algorithm>
#include <cmath>

namespace landfall::render {

namespace {

/// The line itself, within its band.
struct Track {
  int left, width, middle;

  Track(const Rect& band, const Scale& scale)
      : left(band.x + scale.px(space::margin)), width(band.width - 2 * scale.px(space::margin)),
        middle(band.middle().y) {}

  int x(double at) const {
    return left + static_cast<int>(std::lround(between(0.0, at, 1.0) * std::max(width - 1, 0)));
  }
};

} // namespace

void draw_reel(Pen& pen, const Reel& reel, const Palette& colors, const Rect& band,
               const Scale& scale) {
  const Track track(band, scale);
  const int hair = scale.px(space::hair, 1), tick = scale.px(14, 7), mark = scale.px(7, 3);
  const int end = track.left + track.width;
  const int from = reel.loop ? track.x(reel.loop->first) : end;
  const int to = reel.loop ? std::max(track.x(reel.loop->second), from + 1) : end;
  pen.fill(from_edges(track.left, track.middle, from, track.middle + hair), colors.string);
  pen.fill(from_edges(to, track.middle, end, track.middle + hair), colors.string);
  if (reel.loop)
    pen.fill({from, track.middle - hair, to - from, 3 * hair}, colors.tide);
  for (const double chorus : reel.choruses)
    pen.fill({track.x(chorus), track.middle - tick / 2, hair, tick}, colors.string);
  for (const auto& each : reel.marks) {
    const int tall = each.landed ? 2 * mark : mark; // told apart without their colours
    pen.fill({track.x(each.at) - mark / 2, track.middle - hair - tall, mark, tall},
             each.landed ? colors.sand : colors.quiet);
  }
  pen.fill({track.x(reel.at) - hair, band.y + hair, 2 * hair, band.height - 2 * hair}, colors.text);
}

double reel_place(const Rect& band, const Scale& scale, int x) {
  const Track track(band, scale);
  return between(0.0, static_cast<double>(x - track.left) / std::max(track.width - 1, 1), 1.0);
}

} // namespace landfall::render
