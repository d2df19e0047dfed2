#include "render/lines.hpp"

#include "render/board.hpp"
#include "render/close_mark.hpp"
#include "render/hints.hpp"

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

/// A word of the status line.
struct Said {
  StatusPart part;
  std::string_view text;
};

constexpr std::string_view dot = " · ";

std::string in_line(const std::vector<Said>& words) {
  std::string out;
  for (const auto& word : words)
    if (!word.text.empty())
      out.append(out.empty() ? std::string_view{} : dot).append(word.text);
  return out;
}

/// What the status line says, from the whole to the least that will do.
struct StatusTexts {
  std::vector<Said> place;
  std::string_view set;
  std::vector<Said> right;
};

std::vector<StatusTexts> status_choices(const Status& s) {
  using enum StatusPart;
  const Said run{running, running_word(s.running)};
  const Said tempo_said{tempo, s.tempo}, feel_said{feel, s.feel}, chorus_said{chorus, s.chorus};
  const std::vector<Said> places{{key, s.key}, {place, s.place}};
  return {{places, s.set, {run, tempo_said, feel_said, chorus_said, {ports, s.ports}}},
          {places, s.set, {run, tempo_said, feel_said, chorus_said}},
          {places, s.set, {run, tempo_said, chorus_said}},
          {places, "", {run, tempo_said, chorus_said}},
          {places, "", {run, tempo_said}},
          {{{key, s.key}}, "", {run, tempo_said}},
          {{{key, s.key}}, "", {tempo_said}}};
}

/// The status line with each group of words where it stands.
struct PlacedStatus {
  Setting title, quiet;
  std::string name, place, right; ///< As shortened.
  StatusTexts texts;
  int title_x = 0, place_x = 0, set_x = 0, right_x = 0;
};

PlacedStatus place_status(const Pen& pen, const Frame& frame, const Rect& row, const Scale& scale) {
  const Palette& colors = palette(frame.theme);
  PlacedStatus at;
  at.title = {Face::bold, scale.text(type::title), colors.text};
  at.quiet = {Face::regular, scale.text(type::body), colors.quiet};
  const int margin = scale.px(space::margin), gap = at.quiet.size;
  const int title_width = pen.width(at.title, frame.status.title);
  const int title_least = std::min(title_width, at.title.size * 7);

  const std::vector<StatusTexts> choices = status_choices(frame.status);
  auto rest = [&](const StatusTexts& t) {
    const int set = t.set.empty() ? 0 : 2 * gap + pen.width(at.quiet, t.set);
    return gap + pen.width(at.quiet, in_line(t.place)) + set + 2 * gap +
           pen.width(at.quiet, in_line(t.right));
  };
  const int room = row.width - 2 * margin;
  const auto chosen = std::find_if(choices.begin(), choices.end() - 1,
                                   [&](const auto& t) { return title_least + rest(t) <= room; });
  at.texts = *chosen;
  at.name =
      pen.shortened(at.title, frame.status.title, std::max(room - rest(*chosen), title_least));
  at.place = pen.shortened(at.quiet, in_line(chosen->place), room / 2);
  at.right = pen.shortened(at.quiet, in_line(chosen->right), room / 2);
  at.title_x = row.x + margin;
  at.place_x = at.title_x + pen.width(at.title, at.name) + gap;
  at.set_x = at.place_x + pen.width(at.quiet, at.place) + 2 * gap;
  at.right_x = row.right() - margin - pen.width(at.quiet, at.right);
  return at;
}

/// The word at an x of the words that stand from `start` on.
std::optional<StatusPart> part_at(const Pen& pen, const Setting& setting,
                                  const std::vector<Said>& words, const std::string& shown,
                                  int start, int x) {
  if (x < start || x >= start + pen.width(setting, shown))
    return std::nullopt;
  std::vector<Said> before;
  for (const auto& word : words) {
    before.push_back(word);
    if (!word.text.empty() && x < start + pen.width(setting, in_line(before)))
      return word.part;
  }
  return std::nullopt;
}

} // namespace

void draw_status(Pen& pen, const Frame& frame, const Rect& row, const Scale& scale) {
  const auto at = place_status(pen, frame, row, scale);
  const int baseline = row.middle().y + (pen.cap(at.quiet) + 1) / 2;
  pen.write(at.title, {at.title_x, baseline}, at.name);
  pen.write(at.quiet, {at.right_x, baseline}, at.right);
  pen.write(at.quiet, {at.place_x, baseline}, at.place);
  pen.write(at.quiet, {at.set_x, baseline}, at.texts.set);
}

std::optional<StatusPart> status_at(const Pen& pen, const Frame& frame, const Rect& row,
                                    const Scale& scale, int x) {
  const auto at = place_status(pen, frame, row, scale);
  if (x >= at.title_x && x < at.title_x + pen.width(at.title, at.name))
    return StatusPart::title;
  if (x >= at.set_x && x < at.set_x + pen.width(at.quiet, at.texts.set))
    return StatusPart::set;
  if (const auto part = part_at(pen, at.quiet, at.texts.place, at.place, at.place_x, x))
    return part;
  return part_at(pen, at.quiet, at.texts.right, at.right, at.right_x, x);
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
  Rect inside = whole.inset(margin, 0);
  if (std::holds_alternative<PlacesPage>(frame.page))
    inside.width -= close_side(size, scale); // the mark that closes it
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

/// The footer with everything where it stands.
struct PlacedFooter {
  Setting quiet;
  std::string summary, hints;
  int left = 0, timing_x = 0, hints_x = 0;
  int timing_bars = 0; ///< Their width; 0 where there is no room for the timing.
};

int timing_step(const Scale& scale) {
  return std::max(3, scale.px(6));
}

PlacedFooter place_footer(const Pen& pen, const Frame& frame, const Rect& row, const Scale& scale) {
  PlacedFooter at;
  at.quiet = {Face::regular, scale.text(type::body), palette(frame.theme).quiet};
  const int size = at.quiet.size, margin = scale.px(space::margin);
  const int right = row.right() - margin;
  at.left = row.x + margin;
  at.summary = pen.shortened(at.quiet, frame.summary, right - at.left);
  const int used = pen.width(at.quiet, at.summary);
  at.timing_x = at.left + used + (used > 0 ? 2 * size : 0);
  int room = right - at.timing_x;
  if (frame.timing) {
    const int bars = timing_step(scale) * static_cast<int>(frame.timing->bars.size());
    const int whole = bars + size / 2 + pen.width(at.quiet, frame.timing->words) + 2 * size;
    if (whole <= room) {
      at.timing_bars = bars;
      room -= whole;
    }
  }
  at.hints = last_hints(pen, at.quiet, frame.hints, room);
  at.hints_x = right - pen.width(at.quiet, at.hints);
  return at;
}

/// Bars around the beat, then the words.
void draw_timing(Pen& pen, const Timing& timing, const PlacedFooter& footer, int y,
                 const Palette& colors, const Scale& scale) {
  const int step = timing_step(scale), height = footer.quiet.size;
  const Point at{footer.timing_x, y};
  const int foot = at.y + height / 2;
  for (std::size_t i = 0; i < timing.bars.size(); ++i) {
    const int x = at.x + step * static_cast<int>(i);
    const int tall = static_cast<int>(std::lround(between(0.0, timing.bars[i], 1.0) * height));
    if (tall > 0)
      pen.fill({x, foot - tall, std::max(2, step - 2), tall}, colors.quiet);
  }
  const int middle = at.x + step * static_cast<int>(timing.bars.size() / 2) + (step - 2) / 2;
  pen.fill({middle, foot, std::max(1, scale.px(2)), std::max(3, scale.px(6))}, colors.text);
  pen.write_centred(footer.quiet, {at.x + footer.timing_bars + height / 2, at.y}, timing.words);
}

} // namespace

void draw_footer(Pen& pen, const Frame& frame, const Rect& row, const Scale& scale) {
  const auto at = place_footer(pen, frame, row, scale);
  const int y = row.middle().y;
  pen.write_centred(at.quiet, {at.left, y}, at.summary);
  if (at.timing_bars > 0)
    draw_timing(pen, *frame.timing, at, y, palette(frame.theme), scale);
  pen.write_centred(at.quiet, {at.hints_x, y}, at.hints);
}

std::optional<std::pair<std::string, std::size_t>>
footer_hint_at(const Pen& pen, const Frame& frame, const Rect& row, const Scale& scale, int x) {
  const auto at = place_footer(pen, frame, row, scale);
  const auto found = hint_at(pen, at.quiet, at.hints, x - at.hints_x);
  if (!found)
    return std::nullopt;
  return std::pair(std::string(found->hint), found->at);
}

} // namespace landfall::render
