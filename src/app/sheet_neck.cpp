#include "app/sheet_figure.hpp"
#include "neck/wording.hpp"

#include <algorithm>
#include <cmath>

namespace landfall::app::sheet {
namespace {

constexpr double string_gap = 15.2, names_width = 17, most_fret_width = 24;
constexpr double disc = 5.5, reach_disc = 4.5, ring_gap = 1.6, set_ring = 2.7, outline = 0.8;
constexpr double shade = 0.9;

std::size_t at(int index) {
  return static_cast<std::size_t>(index);
}

/// One neck: which frets are drawn, and where.
class Neck {
public:
  Neck(Pen& pen, const NeckDrawing& drawing, neck::FretRange shown, int first_string,
       int last_string)
      : pen_(pen), drawing_(drawing), board_(*drawing.setting->instrument),
        under_(board_.under(drawing.view->hand.low)), shown_(shown), first_string_(first_string),
        last_string_(last_string), flats_(signature(drawing.setting->key) < 0) {
    const double columns = shown.last - shown.first + 1;
    fret_width_ = std::min(most_fret_width, (drawing.width - names_width) / columns);
    width_ = names_width + fret_width_ * columns;
  }

  double width() const { return width_; }
  double height() const { return bottom() + string_gap / 2 + 9; }

  void draw() {
    shade_hand();
    for (int fret = std::max(0, shown_.first - 1); fret <= shown_.last; ++fret)
      pen_.line(wire(fret), top(), wire(fret), bottom(), fret == 0 ? 2.2 : 0.5,
                fret == 0 ? 0 : 0.35);
    for (int string = first_string_; string <= last_string_; ++string)
      draw_string(string);
    for (int fret = shown_.first; fret <= shown_.last; ++fret) {
      const bool in_hand = under_.hand.contains(fret);
      pen_.write({7, in_hand ? Face::bold : Face::regular, in_hand ? 0 : 0.3}, centre(fret),
                 height() - 1, std::to_string(fret), Align::middle);
    }
    for (const auto& note : drawing_.view->notes)
      draw_note(pen_, note, label(note), centre(*note.fret), row(board_.count - note.string));
  }

private:
  double top() const { return string_gap / 2; }
  double bottom() const { return top() + string_gap * (last_string_ - first_string_); }
  double row(int string) const { return bottom() - string_gap * (string - first_string_); }
  double side(double x) const { return drawing_.setting->instrument->left_handed ? width_ - x : x; }
  double centre(int fret) const {
    return side(names_width + fret_width_ * (fret - shown_.first + 0.5));
  }
  /// The wire behind a fret; 0 is the nut.
  double wire(int fret) const {
    return side(names_width + fret_width_ * (fret - shown_.first + 1));
  }

  std::string label(const neck::NeckNote& note) const {
    return neck::label(note, drawing_.labels, drawing_.setting->key, drawing_.view->hand);
  }

  void shade_hand() {
    const int first = std::max({under_.hand.first, 1, shown_.first}) - 1;
    const int last = std::min(under_.hand.last, shown_.last);
    if (last <= first)
      return;
    const double a = wire(first), b = wire(last);
    pen_.add(Box{std::min(a, b), 0, std::abs(b - a), bottom() + top(), shade});
  }

  bool sounds(int string) const {
    return std::ranges::any_of(drawing_.view->notes, [&](const neck::NeckNote& note) {
      return note.string == board_.number(string);
    });
  }

  void draw_string(int string) {
    const auto& open = board_.strings[at(string)];
    const int first = std::max({shown_.first - 1, 0, open.first_fret});
    if (first < shown_.last)
      pen_.line(wire(first), row(string), wire(shown_.last), row(string), 0.7);
    const auto name = render::with_signs(ascii(theory::plain_note(pitch_class(open.open), flats_)));
    pen_.write({7, Face::regular, 0.2}, side(3.5), row(string) + 2.5, name, Align::middle);
    if (drawing_.mutes && !sounds(string))
      draw_cross(side(12.5), row(string));
  }

  void draw_cross(double x, double y) {
    constexpr double half = 1.9;
    pen_.line(x - half, y - half, x + half, y + half, 0.8);
    pen_.line(x - half, y + half, x + half, y - half, 0.8);
  }

  Pen& pen_;
  const NeckDrawing& drawing_;
  neck::Fretboard board_;
  neck::HandFrets under_;
  neck::FretRange shown_;
  int first_string_, last_string_; ///< Low string first.
  bool flats_;
  double fret_width_ = 0, width_ = 0;
};

/// The frets of a group, five at least where the neck has them.
neck::FretRange frets_of(const neck::Group& group, const neck::Fretboard& board) {
  const auto [low, high] = std::ranges::minmax(group.frets);
  neck::FretRange range{low, high};
  while (range.last - range.first < 4 && range.last < board.frets)
    ++range.last;
  while (range.last - range.first < 4 && range.first > 0)
    --range.first;
  return range;
}

} // namespace

void draw_note(Pen& pen, const neck::NeckNote& note, const std::string& label, double x, double y) {
  if (note.role == neck::Role::set && !note.in_grip)
    return pen.add(Disc{x, y, note.reach ? set_ring * 0.75 : set_ring, 1, outline});
  const double radius = note.reach ? reach_disc : disc;
  const bool filled = note.role == neck::Role::landing && note.in_set;
  if (note.in_grip)
    pen.add(Disc{x, y, radius + ring_gap, 1, outline});
  pen.add(Disc{x, y, radius, filled ? 0.0 : 1.0, filled ? 0.0 : outline, !filled});
  const double size = (note.reach ? 6.3 : 7.4) - (label.size() > 2 ? 1.8 : 0);
  pen.write({size, Face::bold, filled ? 1.0 : 0.0}, x, y + size * 0.35, render::with_signs(label),
            Align::middle);
}

Figure neck_figure(const render::TextMetrics& metrics, const NeckDrawing& drawing) {
  Pen pen(metrics);
  const neck::Fretboard board(*drawing.setting->instrument);
  Neck picture(pen, drawing, neck::shown_frets(board, *drawing.view), 0, board.count - 1);
  picture.draw();
  return {pen.take(), picture.width(), picture.height()};
}

Figure board_figure(const render::TextMetrics& metrics, const NeckDrawing& drawing) {
  return drawing.setting->instrument->kind == neck::Instrument::Kind::keyboard
             ? keys_figure(metrics, drawing)
             : neck_figure(metrics, drawing);
}

Figure group_figure(const render::TextMetrics& metrics, const NeckDrawing& drawing,
                    const neck::Group& group) {
  auto view = *drawing.view;
  const bool keyboard = group.strings[0] == 0;
  std::erase_if(view.notes, [&](const neck::NeckNote& note) {
    for (std::size_t i = 0; i < group.pitches.size(); ++i)
      if (note.midi.number == group.pitches[i] && (keyboard || note.string == group.strings[i]))
        return false;
    return true;
  });
  for (auto& note : view.notes)
    note.in_grip = false;
  auto part = drawing;
  part.view = &view;
  if (keyboard)
    return keys_figure(metrics, part);
  Pen pen(metrics);
  const neck::Fretboard board(*drawing.setting->instrument);
  const auto [last, first] = std::ranges::minmax(group.strings);
  Neck picture(pen, part, frets_of(group, board), board.count - first, board.count - last);
  picture.draw();
  return {pen.take(), picture.width(), picture.height()};
}

} // namespace landfall::app::sheet
