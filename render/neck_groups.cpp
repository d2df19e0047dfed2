#include "render/neck_groups.hpp"

#include <initializer_list>

namespace landfall::render {

namespace {

constexpr std::size_t most_groups = 64;

Point along(Point a, Point b, double share) {
  return {a.x + static_cast<int>(std::lround((b.x - a.x) * share)),
          a.y + static_cast<int>(std::lround((b.y - a.y) * share))};
}

struct GroupPainter {
  Pen& pen;
  const Neck& neck;
  const NeckGeometry& geometry;
  const GroupStyle& style;
  std::vector<Rect> taken{}; ///< Where no name may stand.
  std::vector<Rect> names{}; ///< Where no line may run.

  bool shows(const NeckGroup& group) const {
    return std::all_of(group.places.begin(), group.places.end(), [&](const GroupPlace& place) {
      return geometry.shows(place.string, place.fret);
    });
  }
  bool focused(const NeckGroup& group) const { return group.focus || neck.groups.size() == 1; }
  Color color(const NeckGroup& group) const {
    return focused(group) || group.in_grip ? style.colors.text : style.colors.quiet;
  }
  Point at(const GroupPlace& place) const { return geometry.place(place.string, place.fret); }

  int mark_reach() const { return static_cast<int>(geometry.unit() * neck_style::arc) + 2; }
  float dot_radius() const {
    return std::max(2.5F, static_cast<float>(geometry.unit() * neck_style::dot));
  }
  bool lit(const GroupPlace& place) const;
  void dots(const NeckGroup& group);
  void take_marks();
  bool shared(const NeckGroup& group, std::size_t first) const;
  bool shared_middle(const NeckGroup& group) const;
  Setting setting(const NeckGroup& group) const;
  bool write_name(const Setting& set, const Rect& room, const std::string& name);
  void name(const NeckGroup& group);
  void join(const NeckGroup& group, Point a, Point b);
};

void GroupPainter::take_marks() {
  const int reach = mark_reach();
  for (const Place& place : neck.places)
    if (geometry.shows(place.string, place.fret)) {
      const Point p = geometry.place(place.string, place.fret);
      taken.push_back({p.x - reach, p.y - reach, 2 * reach, 2 * reach});
    }
  const int small = static_cast<int>(dot_radius()) + 3;
  for (const NeckGroup& group : neck.groups)
    for (const GroupPlace& place : group.places)
      if (!lit(place) && geometry.shows(place.string, place.fret))
        taken.push_back(Rect{at(place).x, at(place).y, 0, 0}.inset(-small, -small));
}

bool GroupPainter::lit(const GroupPlace& place) const {
  return std::any_of(neck.places.begin(), neck.places.end(), [&](const Place& other) {
    return other.string == place.string && other.fret == place.fret;
  });
}

/// So that no line ends in nothing, where the board shows the same pitch elsewhere.
void GroupPainter::dots(const NeckGroup& group) {
  for (const GroupPlace& place : group.places)
    if (!lit(place))
      pen.add(Disc{at(place), dot_radius(), color(group)});
}

/// Whether another group has the same line, so that a name there could be that of either.
bool GroupPainter::shared(const NeckGroup& group, std::size_t first) const {
  const GroupPlace &a = group.places[first], &b = group.places[first + 1];
  return std::any_of(neck.groups.begin(), neck.groups.end(), [&](const NeckGroup& other) {
    auto has = [&](std::size_t i) {
      const GroupPlace &c = other.places[i], &d = other.places[i + 1];
      return (a == c && b == d) || (a == d && b == c);
    };
    return &other != &group && (has(0) || has(1));
  });
}

bool GroupPainter::shared_middle(const NeckGroup& group) const {
  return std::any_of(neck.groups.begin(), neck.groups.end(), [&](const NeckGroup& other) {
    return &other != &group && other.places[1] == group.places[1];
  });
}

Setting GroupPainter::setting(const NeckGroup& group) const {
  const int strings = std::max(1, static_cast<int>(neck.strings.size()));
  const int most = geometry.fretted().height / strings * 2 / 5;
  const int size = std::min(style.name_size, most);
  return focused(group) ? Setting{Face::semibold, size, style.colors.text}
                        : Setting{Face::regular, size, style.colors.text};
}

bool GroupPainter::write_name(const Setting& set, const Rect& room, const std::string& name) {
  const auto meets = [&](const Rect& other) { return meet(other, room); };
  if (!geometry.fretted().holds(room) || std::any_of(taken.begin(), taken.end(), meets) ||
      std::any_of(names.begin(), names.end(), meets))
    return false;
  pen.write_centred(set, room.middle(), name, Align::middle);
  names.push_back(room);
  return true;
}

/// On one of the group's two lines, as heights stand on a map; or else beside one; or else beside
/// the middle place. Nothing where it would meet anything, or could be that of another group.
void GroupPainter::name(const NeckGroup& group) {
  const Setting set = setting(group);
  if (group.name.empty() || set.size < type::least)
    return;
  const int width = pen.width(set, group.name) + set.size * 2 / 3, height = set.size + 2;
  const int beside = width / 2 + mark_reach() + 1;
  for (const int shift : {0, beside, -beside})
    for (const double share : {0.5, 0.4, 0.6})
      for (const std::size_t first : {0U, 1U}) {
        const Point middle = along(at(group.places[first]), at(group.places[first + 1]), share);
        const Rect room{middle.x + shift - width / 2, middle.y - height / 2, width, height};
        if ((focused(group) || !shared(group, first)) && write_name(set, room, group.name))
          return;
      }
  const Point middle = at(group.places[1]);
  for (const int shift : {beside, -beside})
    for (const int raise : {height * 3 / 4, -height * 3 / 4})
      if (!shared_middle(group) &&
          write_name(set,
                     {middle.x + shift - width / 2, middle.y - raise - height / 2, width, height},
                     group.name))
        return;
}

/// A line, or dashes for a fifth chord, with gaps where names stand.
void GroupPainter::join(const NeckGroup& group, Point a, Point b) {
  const bool focus = focused(group);
  const double share = focus ? neck_style::focused_join : neck_style::join;
  const float stroke = static_cast<float>(std::max(focus ? 2.0 : 1.2, geometry.unit() * share));
  const double step = std::max(geometry.unit() * 0.12, 6.0);
  const int parts = std::clamp(static_cast<int>(std::hypot(b.x - a.x, b.y - a.y) / step), 1, 200);
  const int around = static_cast<int>(step / 2);
  auto drawn = [&](int part) {
    const Point middle = along(a, b, (part + 0.5) / parts);
    return !(group.kind == GroupKind::fifth && part % 2 == 1) &&
           std::none_of(names.begin(), names.end(),
                        [&](const Rect& name) { return name.inset(-around, -2).holds(middle); });
  };
  for (int part = 0; part < parts; ++part) {
    const int from = part;
    while (part < parts && drawn(part))
      ++part;
    if (part > from)
      pen.add(Line{along(a, b, static_cast<double>(from) / parts),
                   along(a, b, static_cast<double>(part) / parts), stroke, color(group)});
  }
}

} // namespace

void draw_groups(Pen& pen, const Neck& neck, const NeckGeometry& geometry,
                 const GroupStyle& style) {
  GroupPainter painter{pen, neck, geometry, style};
  std::vector<const NeckGroup*> shown; // quiet ones first
  for (const bool focus : {false, true})
    for (const NeckGroup& group : neck.groups)
      if (shown.size() < most_groups && painter.focused(group) == focus && painter.shows(group))
        shown.push_back(&group);
  if (style.name_size > 0 && neck.groups.size() > 1) { // the caption names a single one
    painter.take_marks();
    std::for_each(shown.rbegin(), shown.rend(), [&](const auto* group) { painter.name(*group); });
  }
  for (const NeckGroup* group : shown) {
    painter.join(*group, painter.at(group->places[0]), painter.at(group->places[1]));
    painter.join(*group, painter.at(group->places[1]), painter.at(group->places[2]));
    painter.dots(*group);
  }
}

} // namespace landfall::render
