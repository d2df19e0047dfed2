#include "render/grounds.hpp"

#include <cstdio>
#include <numbers>

namespace landfall::render::checks {

namespace {

constexpr int around = 16;           // points on a circle
constexpr double least_share = 0.25; // of the points, for the colour of an area to count
constexpr double most_share = 0.6;   // that of a stroke

/// Whether a command colours a pixel.
struct Covers {
  Point p;

  double away(Point center) const { return std::hypot(p.x - center.x, p.y - center.y); }

  bool operator()(const Fill& c) const { return c.rect.holds(p); }
  bool operator()(const Disc& c) const { return away(c.center) <= c.radius; }
  bool operator()(const Ring& c) const {
    return std::abs(away(c.center) - c.radius) <= c.stroke / 2;
  }
  bool operator()(const Arc& c) const {
    double turn = std::atan2(p.x - c.center.x, c.center.y - p.y) / (2 * std::numbers::pi);
    turn += turn < 0 ? 1.0 : 0.0;
    return std::abs(away(c.center) - c.radius) <= c.stroke / 2 && turn * full_sweep <= c.sweep;
  }
  bool operator()(const Line& c) const {
    const double dx = c.to.x - c.from.x, dy = c.to.y - c.from.y;
    const double length = std::max(dx * dx + dy * dy, 1.0);
    const double share =
        between(0.0, ((p.x - c.from.x) * dx + (p.y - c.from.y) * dy) / length, 1.0);
    return std::hypot(c.from.x + share * dx - p.x, c.from.y + share * dy - p.y) <= c.stroke / 2;
  }
  bool operator()(const Text&) const { return false; } // that texts meet is looked for elsewhere
  bool operator()(const Clip&) const { return false; }
};

Color color_of(const Command& command) {
  return std::visit(
      [](const auto& c) {
        if constexpr (requires { c.color; })
          return c.color;
        else
          return Color{};
      },
      command);
}

using Points = std::vector<Point>;

Rect box_of(std::span<const Point> points) {
  Rect box{points[0].x, points[0].y, 1, 1};
  for (const Point p : points)
    box = from_edges(std::min(box.x, p.x), std::min(box.y, p.y), std::max(box.right(), p.x + 1),
                     std::max(box.bottom(), p.y + 1));
  return box;
}

Points on_circle(Point center, double radius, int sweep = full_sweep) {
  Points out;
  for (int i = 0; i < around; ++i) {
    const double angle = 2 * std::numbers::pi * (i + 0.5) / around * sweep / full_sweep;
    out.push_back({center.x + static_cast<int>(std::lround(radius * std::sin(angle))),
                   center.y - static_cast<int>(std::lround(radius * std::cos(angle)))});
  }
  return out;
}

Points within(const Rect& rect, int columns, int rows) {
  Points out;
  for (int y = 0; y < rows; ++y)
    for (int x = 0; x < columns; ++x)
      out.push_back({rect.x + rect.width * (2 * x + 1) / (2 * columns),
                     rect.y + rect.height * (2 * y + 1) / (2 * rows)});
  return out;
}

/// Whether a command is narrow, as strings and bar lines are.
bool is_stroke(const Command& command, Size window) {
  const int thin = std::max(8, window.height / 90);
  const auto* fill = std::get_if<Fill>(&command);
  return fill != nullptr ? std::min(fill->rect.width, fill->rect.height) <= thin
                         : !std::holds_alternative<Disc>(command);
}

/// Where what a command stands out from is looked for: each group of points on its own.
struct Beside {
  using Groups = std::vector<Points>;

  static Groups both_sides(Point center, double radius, double stroke, int sweep) {
    const double inner = radius - stroke / 2 - 1;
    Groups out{on_circle(center, radius + stroke / 2 + 1, sweep)};
    if (inner > 1)
      out.push_back(on_circle(center, inner, sweep));
    return out;
  }

  Groups operator()(const Fill& c) const {
    const bool wide = c.rect.width >= c.rect.height;
    const Rect outer = c.rect.inset(wide ? 0 : -1, wide ? -1 : 0);
    Points sides;
    for (int i = 0; i < 8; ++i)
      for (const bool far : {false, true})
        sides.push_back(wide ? Point{outer.x + outer.width * (2 * i + 1) / 16,
                                     far ? outer.bottom() - 1 : outer.y}
                             : Point{far ? outer.right() - 1 : outer.x,
                                     outer.y + outer.height * (2 * i + 1) / 16});
    return {within(c.rect, 5, 5), sides};
  }
  Groups operator()(const Disc& c) const { return {on_circle(c.center, c.radius + 1)}; }
  Groups operator()(const Ring& c) const {
    return both_sides(c.center, c.radius, c.stroke, full_sweep);
  }
  Groups operator()(const Arc& c) const {
    return both_sides(c.center, c.radius, c.stroke, c.sweep);
  }
  Groups operator()(const Line& c) const {
    const double dx = c.to.x - c.from.x, dy = c.to.y - c.from.y;
    const double away = (c.stroke / 2 + 1) / std::max(std::hypot(dx, dy), 1.0);
    Groups sides(2);
    for (int i = 0; i < around; ++i)
      for (const int side : {-1, 1}) {
        const double share = (i + 0.5) / around;
        sides[side < 0 ? 0 : 1].push_back(
            {c.from.x + static_cast<int>(std::lround(share * dx - side * away * dy)),
             c.from.y + static_cast<int>(std::lround(share * dy + side * away * dx))});
      }
    return sides;
  }
  Groups operator()(const Text& c) const { // where its small letters are
    return {within({c.at.x, c.at.y - c.size * 6 / 10, c.extent.width, c.size * 6 / 10}, 9, 3)};
  }
  Groups operator()(const Clip&) const { return {}; }
};

double wanted(const Command& command, const Contrasts& least) {
  const auto* text = std::get_if<Text>(&command);
  if (text == nullptr)
    return least.mark;
  const bool bold = text->face == Face::bold || text->face == Face::music_bold;
  return text->size >= 24 || (bold && text->size >= 18.66) ? least.large : least.running;
}

/// A piece of a broken line, which may fall on the nut or a string: the others tell what it is.
bool is_dash(const Command& command, Size window) {
  const auto* line = std::get_if<Line>(&command);
  return line != nullptr && std::hypot(line->to.x - line->from.x, line->to.y - line->from.y) <
                                std::max(16, window.height / 60);
}

/// One line without the place, so that the same fault is told once.
std::string told(const Command& command, Color under, double contrast) {
  char words[160];
  const auto* text = std::get_if<Text>(&command);
  static constexpr const char* kinds[] = {"fill", "disc", "ring", "arc", "line", "text", "clip"};
  std::snprintf(words, sizeof words, "%s #%06X on #%06X is %.2f%s%.40s; ", kinds[command.index()],
                packed(color_of(command)), packed(under), contrast, text ? ": " : "",
                text ? text->text.c_str() : "");
  return words;
}

} // namespace

Grounds::Grounds(const DrawList& list) : list_(list) {
  Rect clip{0, 0, list.size.width, list.size.height};
  for (const Command& command : list.commands) {
    if (const auto* c = std::get_if<Clip>(&command))
      clip = intersection(c->rect, {0, 0, list.size.width, list.size.height});
    seen_.push_back(intersection(bounds(command), clip));
  }
}

std::vector<Color> Grounds::under(std::size_t index, std::span<const Point> points) const {
  if (points.empty())
    return {};
  const bool of_mark = !std::holds_alternative<Text>(list_.commands[index]);
  const Rect box = box_of(points);
  std::vector<std::size_t> near;
  for (std::size_t i = index; i-- > 0;)
    if (meet(seen_[i], box))
      near.push_back(i);
  struct Count {
    Color color;
    bool stroke;
    int points;
  };
  std::vector<Count> counts;
  for (const Point p : points) {
    const auto last = std::find_if(near.begin(), near.end(), [&](std::size_t i) {
      return seen_[i].holds(p) && std::visit(Covers{p}, list_.commands[i]);
    });
    if (last == near.end())
      continue;
    const Color color = color_of(list_.commands[*last]);
    const bool stroke = is_stroke(list_.commands[*last], list_.size) ||
                        (of_mark && std::holds_alternative<Disc>(list_.commands[*last]));
    const auto known = std::find_if(counts.begin(), counts.end(), [&](const Count& count) {
      return count.color == color && count.stroke == stroke;
    });
    if (known == counts.end())
      counts.push_back({color, stroke, 1});
    else
      ++known->points;
  }
  std::vector<Color> out;
  for (const Count& count : counts)
    if (count.points >=
        (count.stroke ? most_share : least_share) * static_cast<double>(points.size()))
      out.push_back(count.color);
  return out;
}

bool Grounds::covered(std::size_t index, Point p) const {
  for (std::size_t i = index + 1; i < seen_.size(); ++i)
    if (seen_[i].holds(p) && !is_stroke(list_.commands[i], list_.size) &&
        std::visit(Covers{p}, list_.commands[i]))
      return true;
  return false;
}

std::vector<Grounds::Side> Grounds::sides(std::size_t index,
                                          const std::function<Color(Color)>& eye) const {
  const Color own = color_of(list_.commands[index]);
  const bool text = std::holds_alternative<Text>(list_.commands[index]);
  std::vector<Side> out;
  for (Points points : std::visit(Beside{}, list_.commands[index])) {
    Side side;
    std::erase_if(points, [&](Point p) { return covered(index, p); });
    for (const Color color : under(index, points))
      if (const double has = contrast(eye(own), eye(color));
          has < side.contrast && (text || color != own)) // the parts of a mark may meet
        side = {color, has};
    out.push_back(side);
  }
  return out;
}

bool is_surface(Color color, const Palette& p) {
  for (const Color area : {p.ground, p.panel, p.board, p.hand, p.black_key, p.black_key_hand})
    if (color == area || color == mix(area, p.hairline, 0.8) || // inlays
        color == mix(area, p.text, neck_style::barre_share))
      return true;
  return color == p.hairline || color == p.string || color == mix(p.board, p.string, 0.8);
}

std::string faint(const DrawList& list, const Palette& palette, const Contrasts& least,
                  const std::function<Color(Color)>& eye) {
  const Grounds grounds(list);
  std::string found;
  for (std::size_t i = 0; i < list.commands.size(); ++i) {
    const Command& command = list.commands[i];
    const bool text = std::holds_alternative<Text>(command);
    if (grounds.seen(i).empty() || is_dash(command, list.size) ||
        (!text && is_surface(color_of(command), palette)))
      continue;
    const auto sides = grounds.sides(i, eye);
    const auto best =
        std::max_element(sides.begin(), sides.end(),
                         [](const auto& a, const auto& b) { return a.contrast < b.contrast; });
    if (best == sides.end() || best->contrast >= wanted(command, least))
      continue;
    const std::string words = told(command, best->under, best->contrast);
    if (found.find(words) == std::string::npos)
      found += words;
  }
  return found;
}

} // namespace landfall::render::checks
