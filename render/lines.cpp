#include "render/lines.hpp"

#include "render/board.hpp"

#include <initializer_list>

namespace landfall::render {

namespace {

/// The texts that are not empty, with middle dots between.
std::string joined(std::initializer_list<std::string_view> texts) {
  std::string out;
  for (std::string_view text : texts) {
    if (text.empty())
      continue;
    if (!out.empty())
      out += " · ";
    out += text;
  }
  return out;
}

std::string_view running_word(Running running) {
  switch (running) {
  case Running::stopped:
    return "stopped";
  case Running::count_in:
    return "counting in";
  case Running::playing:
    return "";
  }
  return "";
}

/// As many of the hints, from the last one backwards, as fit; they are parted by two spaces.
std::string last_hints(const Pen& pen, const Setting& setting, std::string_view hints, int room) {
  while (!hints.empty() && pen.width(setting, hints) > room) {
    const std::size_t gap = hints.find("  ");
    const std::size_t next = hints.find_first_not_of(' ', std::min(gap, hints.size()));
    hints = next == std::string_view::npos ? std::string_view{} : hints.substr(next);
  }
  return std::string(hints);
}

/// What the status line says, from the whole to the least that will do.
struct StatusTexts {
  std::string place;
  std::string set;
  std::string right;
};

std::vector<StatusTexts> status_choices(const Status& s) {
  const std::string_view run = running_word(s.running);
  const std::string place = joined({s.key, s.place});
  return {{place, s.set, joined({run, s.tempo, s.feel, s.chorus, s.ports})},
          {place, s.set, joined({run, s.tempo, s.feel, s.chorus})},
          {place, s.set, joined({run, s.tempo, s.chorus})},
          {place, "", joined({run, s.tempo, s.chorus})},
          {place, "", joined({run, s.tempo})},
          {s.key, "", joined({run, s.tempo})},
          {s.key, "", s.tempo}};
}

} // namespace

void draw_status(Pen& pen, const Frame& frame, const Rect& row, const Scale& scale) {
  const Palette& colors = palette(frame.theme);
  const Setting title{Face::bold, scale.text(type::title), colors.text};
  const Setting quiet{Face::regular, scale.text(type::body), colors.quiet};
  const int margin = scale.px(space::margin), gap = quiet.size;
  const int baseline = row.middle().y + (pen.cap(quiet) + 1) / 2;
  const int title_width = pen.width(title, frame.status.title);
  const int title_least = std::min(title_width, title.size * 7);

  const std::vector<StatusTexts> choices = status_choices(frame.status);
  auto rest = [&](const StatusTexts& t) {
    const int set = t.set.empty() ? 0 : 2 * gap + pen.width(quiet, t.set);
    return gap + pen.width(quiet, t.place) + set + 2 * gap + pen.width(quiet, t.right);
  };
  const int room = row.width - 2 * margin;
  auto chosen = std::find_if(choices.begin(), choices.end() - 1,
                             [&](const auto& t) { return title_least + rest(t) <= room; });
  int x = row.x + margin;
  x += pen.write_within(title, {x, baseline}, frame.status.title,
                        std::max(room - rest(*chosen), title_least)) +
       gap;
  pen.write_within(quiet, {row.right() - margin, baseline}, chosen->right, room / 2, Align::right);
  x += pen.write_within(quiet, {x, baseline}, chosen->place, room / 2) + 2 * gap;
  if (!chosen->set.empty())
    pen.write(quiet, {x, baseline}, chosen->set);
}

std::string board_caption(const Frame& frame) {
  return std::visit(
      [](const auto& board) {
        const auto& groups = board.groups;
        const auto focus = std::find_if(groups.begin(), groups.end(), [&](const auto& group) {
          return group.focus || groups.size() == 1;
        });
        return focus == groups.end() ? board.caption : joined({board.caption, focus->name});
      },
      frame.board);
}

namespace {

/// Bold words about what is below, from `x` on, and quieter ones beside them. Where they end.
int draw_words(Pen& pen, const Palette& colors, Point at, int size, const std::string& bold,
               const std::string& more, int room) {
  const Setting title{Face::bold, size, colors.text}, quiet{Face::regular, size, colors.quiet};
  const std::string said = pen.shortened(title, bold, room);
  int used = pen.width(title, said);
  pen.write_centred(title, at, said);
  if (!more.empty()) {
    const int start = used == 0 ? 0 : used + size;
    const std::string rest = pen.shortened(quiet, more, room - start);
    pen.write_centred(quiet, {at.x + start, at.y}, rest);
    used = rest.empty() ? used : start + pen.width(quiet, rest);
  }
  return at.x + used;
}

/// What is said about the picture below, at the left: of the places of a key, their title; of two
/// boards, over each whose it is. Where it ends.
int draw_heading(Pen& pen, const Frame& frame, const Bands& b, const Rect& row, int size) {
  const Palette& colors = palette(frame.theme);
  const Point left{row.x, row.middle().y};
  if (const auto* places = std::get_if<PlacesPage>(&frame.page))
    return draw_words(pen, colors, left, size, places->title, places->subtitle, row.width * 2 / 3);
  const std::string caption = board_caption(frame);
  if (!frame.other)
    return draw_words(pen, colors, left, size, caption, "", row.width * 2 / 3);
  const int own = b.own.board.x - (b.other.board.x - row.x);
  draw_words(pen, colors, left, size, frame.other->words, "", own - row.x - size);
  return draw_words(pen, colors, {own, left.y}, size, joined({frame.other->own_words, caption}), "",
                    (row.right() - own) / 2);
}

} // namespace

void draw_note(Pen& pen, const Frame& frame, const Bands& b, const Scale& scale) {
  const Rect& whole = b.note;
  const Palette& colors = palette(frame.theme);
  const int most = frame.scene ? scale.display(type::scene_text) : scale.text(type::body);
  const int size = std::min(most, whole.height * 3 / 4);
  const Setting message{Face::semibold, size, colors.text};
  const Setting notice{Face::regular, size, colors.quiet};
  const int margin = scale.px(space::margin + (frame.scene ? 10 : 0));
  const Rect inside = whole.inset(margin, 0);
  const int heading = draw_heading(pen, frame, b, inside, size);
  const bool beside = heading > inside.x; // a heading stands at the left
  const Rect row =
      from_edges(beside ? heading + 2 * size : inside.x, whole.y, inside.right(), whole.bottom());
  const int room = row.width;
  const int left = frame.notice.empty()
                       ? room
                       : std::max(room / 3, room - pen.width(notice, frame.notice) - notice.size);
  const std::string said = pen.shortened(message, frame.message, left);
  const int used = pen.width(message, said);
  const int start = used == 0 ? 0 : used + notice.size;
  const std::string noticed = pen.shortened(notice, frame.notice, room - start);
  const int total = start + pen.width(notice, noticed);
  const Point at{beside ? row.right() - total : row.x, row.middle().y};
  pen.write_centred(message, at, said);
  pen.write_centred(notice, {at.x + start, at.y}, noticed);
}

namespace {

/// The bars around the beat, then the words. Returns the room it takes, with the space before it;
/// 0 where there is not enough.
int draw_timing(Pen& pen, const Timing& timing, const Setting& setting, Point at, int room,
                const Palette& colors, const Scale& scale) {
  const int step = std::max(3, scale.px(6)), height = setting.size;
  const int bars = step * static_cast<int>(timing.bars.size());
  const int gap = setting.size / 2;
  const int whole = bars + gap + pen.width(setting, timing.words);
  if (whole + 2 * setting.size > room)
    return 0;
  const int foot = at.y + height / 2;
  for (std::size_t i = 0; i < timing.bars.size(); ++i) {
    const int x = at.x + step * static_cast<int>(i);
    const int tall = static_cast<int>(std::lround(between(0.0, timing.bars[i], 1.0) * height));
    if (tall > 0)
      pen.fill({x, foot - tall, std::max(2, step - 2), tall}, colors.quiet);
  }
  const int middle = at.x + step * static_cast<int>(timing.bars.size() / 2) + (step - 2) / 2;
  pen.fill({middle, foot, std::max(1, scale.px(2)), std::max(3, scale.px(6))}, colors.text);
  pen.write_centred(setting, {at.x + bars + gap, at.y}, timing.words);
  return whole + 2 * setting.size;
}

} // namespace

void draw_footer(Pen& pen, const Frame& frame, const Rect& row, const Scale& scale) {
  const Palette& colors = palette(frame.theme);
  const Setting quiet{Face::regular, scale.text(type::body), colors.quiet};
  const int margin = scale.px(space::margin);
  const int room = row.width - 2 * margin;
  const std::string summary = pen.shortened(quiet, frame.summary, room);
  const int used = pen.width(quiet, summary);
  pen.write_centred(quiet, {row.x + margin, row.middle().y}, summary);
  int left = room - used - (used > 0 ? 2 * quiet.size : 0);
  if (frame.timing)
    left -= draw_timing(pen, *frame.timing, quiet, {row.right() - margin - left, row.middle().y},
                        left, colors, scale);
  pen.write_centred(quiet, {row.right() - margin, row.middle().y},
                    last_hints(pen, quiet, frame.hints, left), Align::right);
}

} // namespace landfall::render
