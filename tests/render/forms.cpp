#include "render/forms.hpp"

#include "render/grounds.hpp"

namespace landfall::render::checks {

namespace {

struct PartOf {
  Part operator()(const Fill& c) const {
    return {Part::Kind::bar, true, static_cast<double>(std::min(c.rect.width, c.rect.height)), 0};
  }
  Part operator()(const Disc& c) const { return {Part::Kind::disc, true, c.radius, 0}; }
  Part operator()(const Ring& c) const { return {Part::Kind::ring, true, c.radius, c.stroke}; }
  Part operator()(const Arc& c) const { return {Part::Kind::arc, true, c.radius, c.stroke}; }
  Part operator()(const Line& c) const { return {Part::Kind::line, true, c.stroke, 0}; }
  Part operator()(const Text&) const { return {Part::Kind::word, true, 0, 0}; }
  Part operator()(const Clip&) const { return {Part::Kind::bar, false, 0, 0}; }
};

bool differ(double a, double b, double ratio) {
  return std::abs(a - b) >= 1.0 && std::max(a, b) >= ratio * std::min(a, b);
}

/// In the order in which parts of two forms are held against each other.
bool before(const Part& a, const Part& b) {
  return std::tie(a.kind, a.solid, a.size, a.stroke) < std::tie(b.kind, b.solid, b.size, b.stroke);
}

} // namespace

std::vector<Part> form_of(const DrawList& with, const DrawList& without,
                          const std::function<Color(Color)>& eye) {
  const Grounds grounds(with);
  std::vector<Command> known = without.commands;
  std::vector<Part> form;
  for (std::size_t i = 0; i < with.commands.size(); ++i) {
    const Command& command = with.commands[i];
    if (const auto same = std::find(known.begin(), known.end(), command); same != known.end()) {
      known.erase(same);
      continue;
    }
    Part part = std::visit(PartOf{}, command);
    const auto sides = grounds.sides(i, eye);
    part.solid = std::all_of(sides.begin(), sides.end(),
                             [](const auto& side) { return side.contrast >= 3.0; });
    if (part.solid || part.kind == Part::Kind::disc)
      form.push_back(part);
  }
  std::sort(form.begin(), form.end(), before);
  return form;
}

bool told_apart(const std::vector<Part>& a, const std::vector<Part>& b) {
  if (a.size() != b.size())
    return true;
  for (std::size_t i = 0; i < a.size(); ++i) {
    const bool round = a[i].kind == Part::Kind::disc || a[i].kind == Part::Kind::ring ||
                       a[i].kind == Part::Kind::arc;
    if (a[i].kind != b[i].kind || a[i].solid != b[i].solid ||
        differ(a[i].size, b[i].size, round ? 1.1 : 1.4) || differ(a[i].stroke, b[i].stroke, 1.4))
      return true;
  }
  return false;
}

} // namespace landfall::render::checks
