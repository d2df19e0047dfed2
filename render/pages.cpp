#include "render/pages.hpp"

#include "render/chart_preview.hpp"
#include "render/close_mark.hpp"
#include "render/edit_page.hpp"
#include "render/hints.hpp"

namespace landfall::render {

namespace {

struct ListPainter {
  Pen& pen;
  const ListPage& page;
  const Palette& colors;
  const Scale& scale;
  const ListGeometry geometry;
  const int body;

  void title() {
    const Setting setting{Face::bold, scale.display(type::page_title), colors.text};
    pen.write_within(setting, {geometry.text.x, geometry.title_baseline}, page.title,
                     geometry.preview.empty()
                         ? geometry.text.width - close_side(setting.size, scale)
                         : geometry.text.width);
  }

  /// Returns where they end.
  int paragraphs(const std::vector<std::string>& texts, const Rect& rect, Color color) {
    const Setting setting{Face::regular, body, color};
    int y = rect.y + body;
    for (const std::string& text : texts)
      for (const std::string& line : wrapped(pen, setting, text, rect.width)) {
        if (y + body / 3 > rect.bottom())
          return rect.bottom();
        pen.write_within(setting, {rect.x, y}, line, rect.width);
        y += Scale::line(body);
      }
    return y - body;
  }

  void preview() {
    const Rect& rect = geometry.preview;
    const int y = paragraphs(page.preview, rect, colors.quiet) + (page.preview.empty() ? 0 : body);
    if (!page.chart.empty() && y < rect.bottom())
      draw_chart(pen, page.chart, colors, from_edges(rect.x, y, rect.right(), rect.bottom()),
                 scale);
  }

  void query() {
    if (!page.has_query)
      return;
    const Rect& field = geometry.query;
    const int hair = scale.px(3, 1);
    pen.fill({field.x, field.bottom() - hair, field.width, hair}, colors.tide);
    draw_field_text(pen, {Face::regular, body, colors.text}, page.query, page.query_hint,
                    page.query_caret.value_or(page.query.size()), field, colors, scale);
  }

  /// A short answer to what was just done takes the place of the hints.
  void foot(const std::string& message) {
    const Setting quiet{Face::regular, body, colors.quiet};
    const Setting said{Face::semibold, body, colors.text};
    const Rect& row = geometry.hints;
    if (message.empty())
      pen.write_centred(quiet, {row.x, row.middle().y},
                        last_hints(pen, quiet, page.hints, row.width));
    else if (!row.empty())
      pen.write_centred(said, {row.x, row.middle().y}, pen.shortened(said, message, row.width));
  }

  void row(int index) {
    const ListRow& row = page.rows[static_cast<std::size_t>(index)];
    const Rect rect = geometry.row(index);
    const bool focus = index == page.selected && !row.heading;
    const int pad = scale.px(space::medium);
    if (focus) {
      pen.fill(rect, colors.hand);
      pen.fill({rect.x, rect.y, scale.px(6, 2), rect.height}, colors.sand);
    }
    const Setting detail{Face::regular, body, focus ? colors.text : colors.quiet};
    const int left = rect.x + (row.heading ? 0 : 2 * pad + scale.px(12));
    const int room = rect.right() - pad - left;
    const Setting text{row.heading || row.chosen || focus ? Face::semibold : Face::regular, body,
                       row.heading && !focus ? colors.quiet : colors.text};
    const std::string shown = pen.shortened(text, row.text, room);
    const int used = pen.width(text, shown);
    pen.write_centred(text, {left, rect.middle().y}, shown);
    pen.write_centred(detail, {rect.right() - pad, rect.middle().y},
                      pen.shortened(detail, row.detail, room - used - body), Align::right);
    if (row.chosen)
      pen.add(Disc{{rect.x + pad + scale.px(10), rect.middle().y},
                   std::max(2.5F, scale.exact(7)),
                   colors.sand});
  }

  void rows() {
    for (int i = geometry.first; i < geometry.first + geometry.shown; ++i)
      row(i);
    const int count = static_cast<int>(page.rows.size());
    if (geometry.shown == 0 || count <= geometry.shown)
      return;
    const int width = scale.px(4, 2), height = geometry.shown * geometry.row_height;
    const int bar = std::max(height * geometry.shown / count, geometry.row_height / 2);
    pen.fill({geometry.rows.right() + width * 2,
              geometry.rows.y + (height - bar) * geometry.first / (count - geometry.shown), width,
              bar},
             colors.quiet);
  }
};

void draw_list(Pen& pen, const ListPage& page, const std::string& message, const Palette& colors,
               const Rect& rect, const Scale& scale) {
  ListPainter painter{
      pen, page, colors, scale, ListGeometry(page, rect, scale), scale.text(type::body)};
  painter.title();
  painter.paragraphs(page.lines, painter.geometry.text, colors.quiet);
  painter.query();
  painter.rows();
  painter.foot(message);
  if (!painter.geometry.preview.empty())
    painter.preview();
}

} // namespace

Rect draw_heading(Pen& pen, std::string_view title, std::string_view subtitle,
                  const Palette& colors, const Rect& rect, const Scale& scale) {
  const int margin = scale.px(space::margin);
  const Setting large{Face::bold, scale.display(type::page_title), colors.text};
  const Setting body{Face::regular, scale.text(type::body), colors.quiet};
  const int baseline = rect.y + scale.px(space::large) + large.size;
  const int used =
      pen.write_within(large, {rect.x + margin, baseline}, title, rect.width * 2 / 3) + large.size;
  pen.write_within(body, {rect.x + margin + used, baseline}, subtitle,
                   rect.width - 2 * margin - used - close_side(large.size, scale));
  return from_edges(rect.x + margin, baseline + large.size * 3 / 5, rect.right() - margin,
                    rect.bottom() - margin / 2);
}

void draw_page(Pen& pen, const Frame& frame, const Rect& rect, const Scale& scale) {
  const Palette& colors = palette(frame.theme);
  pen.fill(rect, colors.panel);
  if (const auto* help = std::get_if<HelpPage>(&frame.page))
    draw_help(pen, *help, colors, rect, scale);
  if (const auto* history = std::get_if<HistoryPage>(&frame.page))
    draw_history(pen, *history, colors, rect, scale);
  if (const auto* rig = std::get_if<RigPage>(&frame.page))
    draw_rig(pen, *rig, colors, rect, scale);
  if (const auto* list = std::get_if<ListPage>(&frame.page))
    draw_list(pen, *list, frame.message, colors, rect, scale);
}

} // namespace landfall::render
