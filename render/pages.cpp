#include "render/pages.hpp"

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
                     geometry.text.width);
  }

  void paragraphs(const std::vector<std::string>& texts, const Rect& rect, Color color) {
    const Setting setting{Face::regular, body, color};
    int y = rect.y + body;
    for (const std::string& text : texts)
      for (const std::string& line : wrapped(pen, setting, text, rect.width)) {
        if (y + body / 3 > rect.bottom())
          return;
        pen.write_within(setting, {rect.x, y}, line, rect.width);
        y += Scale::line(body);
      }
  }

  void query() {
    if (!page.has_query)
      return;
    const Rect& field = geometry.query;
    const int hair = scale.px(3, 1);
    pen.fill({field.x, field.bottom() - hair, field.width, hair}, colors.tide);
    const bool hint = page.query.empty();
    const Setting setting{Face::regular, body, hint ? colors.quiet : colors.text};
    const int y = field.middle().y;
    const int cursor = hint ? 0 : pen.width(setting, page.query) + 2;
    pen.write_centred(
        setting, {field.x + (hint ? body / 2 : 0), y},
        pen.shortened(setting, hint ? page.query_hint : page.query, field.width - body));
    pen.fill(
        {field.x + std::min(cursor, field.width - body / 2), y - body * 2 / 3, hair, body * 4 / 3},
        colors.text);
  }

  void row(int index) {
    const ListRow& row = page.rows[static_cast<std::size_t>(index)];
    const Rect rect = geometry.row(index);
    const bool focus = index == page.selected;
    const int pad = scale.px(space::medium);
    if (focus) {
      pen.fill(rect, colors.hand);
      pen.fill({rect.x, rect.y, scale.px(6, 2), rect.height}, colors.sand);
    }
    const Setting detail{Face::regular, body, colors.quiet};
    const int left = rect.x + (row.heading ? 0 : 2 * pad + scale.px(12));
    const int room = rect.right() - pad - left;
    const Setting text{row.heading || row.chosen || focus ? Face::semibold : Face::regular, body,
                       row.heading ? colors.quiet : colors.text};
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
    pen.fill({geometry.rows.right() + width * 2, geometry.rows.y + height * geometry.first / count,
              width, height * geometry.shown / count},
             colors.hairline);
  }
};

void draw_list(Pen& pen, const ListPage& page, const Palette& colors, const Rect& rect,
               const Scale& scale) {
  ListPainter painter{
      pen, page, colors, scale, ListGeometry(page, rect, scale), scale.text(type::body)};
  painter.title();
  painter.paragraphs(page.lines, painter.geometry.text, colors.quiet);
  painter.query();
  painter.rows();
  if (!painter.geometry.preview.empty())
    painter.paragraphs(page.preview, painter.geometry.preview, colors.quiet);
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
                   rect.width - 2 * margin - used);
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
    draw_list(pen, *list, colors, rect, scale);
}

} // namespace landfall::render
