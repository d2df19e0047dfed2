#include "app/sheet_flow.hpp"

#include <algorithm>

namespace landfall::app::sheet {
namespace {

constexpr double foot = 22; ///< What the line at the foot takes of the margins' room.
constexpr double slack = 0.01;

/// How much the block at `first` and those that it must stand with take.
double height_with_next(const std::vector<Block>& blocks, std::size_t first) {
  double height = blocks[first].height;
  while (blocks[first].with_next && first + 1 < blocks.size()) {
    ++first;
    height += blocks[first].above + blocks[first].height;
  }
  return height;
}

void place(Page& page, Block block, double x, double y, double room) {
  for (auto& mark : block.marks)
    page.marks.push_back(moved(std::move(mark), x, y));
  page.regions.push_back({std::move(block.what), {x, y, x + room, y + block.height}});
}

void write_feet(Sheet& sheet, const render::TextMetrics& metrics) {
  const double y = sheet.paper.height - sheet.paper.margin;
  const Style quiet{8, Face::regular, 0.3};
  for (std::size_t i = 0; i < sheet.pages.size(); ++i) {
    Pen pen(metrics);
    const auto number =
        "page " + std::to_string(i + 1) + " of " + std::to_string(sheet.pages.size());
    const double wide =
        pen.write(quiet, sheet.paper.width - sheet.paper.margin, y, number, Align::right);
    pen.write(quiet, sheet.paper.margin, y,
              pen.shortened(quiet, sheet.title, sheet.paper.room() - wide - 20));
    for (auto& mark : pen.take())
      sheet.pages[i].marks.push_back(std::move(mark));
  }
}

} // namespace

double page_room(const Paper& paper) {
  return paper.height - 2 * paper.margin - foot;
}

Sheet flow(const std::string& title, std::vector<Block> blocks, const Paper& paper,
           const render::TextMetrics& metrics) {
  Sheet sheet{title, paper, {Page{}}};
  const double end = paper.margin + page_room(paper) + slack;
  double y = paper.margin;
  for (std::size_t i = 0; i < blocks.size(); ++i) {
    const bool fresh = sheet.pages.back().regions.empty();
    const double need = std::min(height_with_next(blocks, i), page_room(paper));
    if (!fresh && y + blocks[i].above + need > end) {
      sheet.pages.emplace_back();
      y = paper.margin;
    } else if (!fresh) {
      y += blocks[i].above;
    }
    const double height = blocks[i].height;
    place(sheet.pages.back(), std::move(blocks[i]), paper.margin, y, paper.room());
    y += height;
  }
  write_feet(sheet, metrics);
  return sheet;
}

} // namespace landfall::app::sheet
