#include "render/changes.hpp"

#include <bit>

namespace landfall::render {

namespace {

constexpr int cell = 48;

struct Hash {
  std::uint64_t value = 0xcbf29ce484222325U;

  void add(std::uint64_t part) {
    value = (value ^ part) * 0x9E3779B97F4A7C15U;
    value ^= value >> 29;
  }
  void add(Point p) {
    add((std::uint64_t{static_cast<std::uint32_t>(p.x)} << 32) | static_cast<std::uint32_t>(p.y));
  }
  void add(const Rect& r) {
    add(Point{r.x, r.y});
    add(Point{r.width, r.height});
  }
  void add(float a, float b) {
    add((std::uint64_t{std::bit_cast<std::uint32_t>(a)} << 32) | std::bit_cast<std::uint32_t>(b));
  }
};

struct CommandHash {
  Hash& hash;

  void operator()(const Fill& c) const {
    hash.add(c.rect);
    hash.add(packed(c.color));
  }
  void operator()(const Disc& c) const {
    hash.add(c.center);
    hash.add(c.radius, 0.0F);
    hash.add(packed(c.color));
  }
  void operator()(const Ring& c) const {
    hash.add(c.center);
    hash.add(c.radius, c.stroke);
    hash.add(packed(c.color));
  }
  void operator()(const Arc& c) const {
    hash.add(c.center);
    hash.add(c.radius, c.stroke);
    hash.add((std::uint64_t{packed(c.color)} << 32) | static_cast<std::uint32_t>(c.sweep));
  }
  void operator()(const Line& c) const {
    hash.add(c.from);
    hash.add(c.to);
    hash.add(c.stroke, 0.0F);
    hash.add(packed(c.color));
  }
  void operator()(const Text& c) const {
    hash.add(c.at);
    hash.add((std::uint64_t{packed(c.color)} << 32) | (static_cast<std::uint32_t>(c.size) << 3) |
             static_cast<std::uint32_t>(c.face));
    hash.add(std::hash<std::string>{}(c.text));
  }
  void operator()(const Clip& c) const { hash.add(c.rect); }
};

struct Grid {
  int columns;
  int rows;

  explicit Grid(Size size)
      : columns((size.width + cell - 1) / cell), rows((size.height + cell - 1) / cell) {}

  std::size_t count() const {
    return static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows);
  }
  std::size_t index(int column, int row) const {
    return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns) +
           static_cast<std::size_t>(column);
  }
};

std::vector<std::uint64_t> hashes(const DrawList& list, const Grid& grid) {
  std::vector<std::uint64_t> cells(grid.count(), 0);
  const Rect window{0, 0, list.size.width, list.size.height};
  Rect clip = window;
  for (const Command& command : list.commands) {
    if (const auto* c = std::get_if<Clip>(&command)) {
      clip = intersection(c->rect, window);
      continue;
    }
    const Rect area = intersection(painted_bounds(command), clip);
    if (area.empty())
      continue;
    Hash hash;
    hash.add(command.index());
    std::visit(CommandHash{hash}, command);
    for (int row = area.y / cell; row <= (area.bottom() - 1) / cell; ++row)
      for (int column = area.x / cell; column <= (area.right() - 1) / cell; ++column) {
        Hash folded{cells[grid.index(column, row)]};
        folded.add(hash.value);
        cells[grid.index(column, row)] = folded.value;
      }
  }
  return cells;
}

/// A run of changed cells joins the area above it when both span the same columns.
void join(std::vector<Rect>& areas, const Rect& run) {
  for (Rect& area : areas)
    if (area.x == run.x && area.width == run.width && area.bottom() == run.y) {
      area.height += run.height;
      return;
    }
  areas.push_back(run);
}

} // namespace

std::vector<Rect> ChangeFinder::changed(const DrawList& list) {
  const Grid grid(list.size);
  std::vector<std::uint64_t> now = hashes(list, grid);
  const Rect window{0, 0, list.size.width, list.size.height};
  if (size_ != list.size) {
    size_ = list.size;
    cells_ = std::move(now);
    return {window};
  }
  std::vector<Rect> areas;
  for (int row = 0; row < grid.rows; ++row)
    for (int column = 0; column < grid.columns; ++column) {
      const int start = column;
      while (column < grid.columns &&
             now[grid.index(column, row)] != cells_[grid.index(column, row)])
        ++column;
      if (column > start)
        join(areas,
             intersection({start * cell, row * cell, (column - start) * cell, cell}, window));
    }
  cells_ = std::move(now);
  return areas;
}

} // namespace landfall::render
