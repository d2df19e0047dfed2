#include "neck/text.hpp"
#include "neck/wording.hpp"

#include <algorithm>
#include <cstdio>

namespace landfall::neck {
namespace {

/// Text that may hold anything, made safe between tags.
std::string escaped(std::string_view text) {
  std::string safe;
  for (const char c : text)
    switch (c) {
    case '&':
      safe += "&amp;";
      break;
    case '<':
      safe += "&lt;";
      break;
    case '>':
      safe += "&gt;";
      break;
    default:
      if (static_cast<unsigned char>(c) >= ' ')
        safe += c;
    }
  return safe;
}

/// `b3` with the real signs.
std::string with_signs(std::string_view text) {
  std::string out;
  for (const char c : text)
    out += c == 'b' ? "♭" : c == '#' ? "♯" : std::string(1, c);
  return out;
}

std::string number(double value) {
  std::array<char, 32> text{};
  std::snprintf(text.data(), text.size(), "%.1f", value);
  return text.data();
}

/// Elements one after the other.
class Drawing {
public:
  void line(double x1, double y1, double x2, double y2, double width) {
    body_ += "<line x1=\"" + number(x1) + "\" y1=\"" + number(y1) + "\" x2=\"" + number(x2) +
             "\" y2=\"" + number(y2) + "\" stroke=\"#000\" stroke-width=\"" + number(width) +
             "\"/>\n";
  }
  void box(double x, double y, double w, double h, const char* fill, const char* stroke) {
    body_ += "<rect x=\"" + number(x) + "\" y=\"" + number(y) + "\" width=\"" + number(w) +
             "\" height=\"" + number(h) + "\" fill=\"" + fill + "\" stroke=\"" + stroke + "\"/>\n";
  }
  void circle(double x, double y, double r, const char* fill, double stroke,
              const char* dashes = "") {
    body_ += "<circle cx=\"" + number(x) + "\" cy=\"" + number(y) + "\" r=\"" + number(r) +
             "\" fill=\"" + fill + "\" stroke=\"#000\" stroke-width=\"" + number(stroke) + "\"" +
             (*dashes != '\0' ? std::string(" stroke-dasharray=\"") + dashes + "\"" : "") + "/>\n";
  }
  void text(double x, double y, double size, const std::string& content, const char* anchor,
            const char* fill = "#000", bool bold = false) {
    body_ += "<text x=\"" + number(x) + "\" y=\"" + number(y) + "\" font-size=\"" + number(size) +
             "\" text-anchor=\"" + anchor + "\" fill=\"" + fill + "\"" +
             (bold ? " font-weight=\"700\"" : "") + ">" + escaped(content) + "</text>\n";
  }

  std::string document(double width, double height, const std::string& title) const {
    return "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"" + number(width) +
           "\" height=\"" + number(height) + "\" viewBox=\"0 0 " + number(width) + " " +
           number(height) +
           "\" font-family=\"'Atkinson Hyperlegible Next', 'Noto Music', Helvetica, Arial, "
           "sans-serif\">\n"
           "<title>" +
           escaped(title) + "</title>\n<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n" +
           body_ + "</svg>\n";
  }

private:
  std::string body_;
};

/// A landing note is a filled disc with its degree, one of the grip with a ring around it; a chord
/// tone outside the set an open disc; another note of the set a small open ring. Reach is smaller.
void mark(Drawing& drawing, const NeckNote& note, const std::string& text, double x, double y) {
  if (note.role == Role::set)
    return drawing.circle(x, y, note.reach ? 4 : 6, "#fff", 1.5);
  const double radius = note.reach ? 10 : 14;
  const bool filled = note.role == Role::landing && note.in_set;
  if (note.in_grip)
    drawing.circle(x, y, radius + 3.5, "#fff", 1.5);
  drawing.circle(x, y, radius, filled ? "#000" : "#fff", 1.5, filled ? "" : "3 2");
  const double size = (note.reach ? 10 : 14) - (text.size() > 2 ? 3 : 0);
  drawing.text(x, y + size * 0.36, size, with_signs(text), "middle", filled ? "#fff" : "#000",
               true);
}

double write_headings(Drawing& drawing, const std::vector<std::string>& lines) {
  double y = 32;
  for (const auto& line : lines) {
    const bool first = &line == &lines.front();
    drawing.text(32, y, first ? 20 : 14, line, "start", "#000", first);
    y += 22;
  }
  return y + 10;
}

class FretDrawing {
public:
  FretDrawing(const Setting& setting, const NeckView& view, LabelKind labels, Drawing& drawing,
              double top)
      : view_(view), labels_(labels), key_(setting.key), drawing_(drawing),
        board_(*setting.instrument), under_(board_.under(view.hand.low)),
        shown_(shown_frets(board_, view)), top_(top + 20),
        flipped_(setting.instrument->left_handed), flats_(signature(setting.key) < 0) {}

  double width() const { return 64 + 64.0 * columns() + 32; }
  double height() const { return bottom() + 44; }

  void draw() {
    shade_hand();
    for (int fret = std::max(0, shown_.first - 1); fret <= shown_.last; ++fret)
      drawing_.line(wire(fret), top_, wire(fret), bottom(), fret == 0 ? 5 : 1);
    for (int string = 0; string < board_.count; ++string)
      draw_string(string);
    for (int fret = shown_.first; fret <= shown_.last; ++fret)
      drawing_.text(centre(fret), bottom() + 32, 13, std::to_string(fret), "middle", "#000",
                    under_.hand.contains(fret));
    for (const auto& note : view_.notes)
      mark(drawing_, note, label(note, labels_, key_, view_.hand), centre(*note.fret),
           row(board_.count - note.string));
  }

private:
  int columns() const { return shown_.last - shown_.first + 1; }
  double bottom() const { return top_ + 36.0 * (board_.count - 1); }
  double row(int string) const { return bottom() - 36.0 * string; }
  double side(double x) const { return flipped_ ? width() - x : x; }
  double centre(int fret) const { return side(64 + 64.0 * (fret - shown_.first) + 32); }
  /// The fret wire behind a fret; 0 is the nut.
  double wire(int fret) const { return side(64 + 64.0 * (fret - shown_.first + 1)); }

  void shade_hand() {
    const double a = wire(std::max(under_.hand.first, 1) - 1), b = wire(under_.hand.last);
    drawing_.box(std::min(a, b), top_ - 18, std::abs(b - a), bottom() - top_ + 36, "#eee", "none");
  }

  void draw_string(int string) {
    const int first = std::max({shown_.first - 1, 0, board_.strings[at(string)].first_fret});
    if (first < shown_.last)
      drawing_.line(wire(first), row(string), wire(shown_.last), row(string), 1.2);
    drawing_.text(side(30), row(string) + 5, 13, ascii(board_.strings[at(string)].open, flats_),
                  "middle");
  }

  static std::size_t at(int index) { return static_cast<std::size_t>(index); }

  const NeckView& view_;
  LabelKind labels_;
  theory::Key key_;
  Drawing& drawing_;
  Fretboard board_;
  HandFrets under_;
  FretRange shown_;
  double top_;
  bool flipped_, flats_;
};

bool is_white(int pitch) {
  return has(0b101010110101, pitch);
}

class KeyDrawing {
public:
  KeyDrawing(const Setting& setting, const NeckView& view, LabelKind labels, Drawing& drawing,
             double top)
      : view_(view), labels_(labels), key_(setting.key), drawing_(drawing), top_(top) {
    first_ = view.hand.low - (is_white(view.hand.low) ? 0 : 1);
    last_ = view.hand.high + (is_white(view.hand.high) ? 0 : 1);
  }

  double width() const { return 64 + 48.0 * (whites_below(last_) + 1); }
  double height() const { return top_ + 200; }

  void draw() {
    for (const bool white : {true, false})
      for (int pitch = first_; pitch <= last_; ++pitch)
        if (is_white(pitch) == white)
          draw_key(pitch);
    for (const auto& note : view_.notes)
      mark(drawing_, note, label(note, labels_, key_, view_.hand), centre(note.midi.number),
           top_ + (is_white(note.midi.number) ? 150 : 80));
  }

private:
  int whites_below(int pitch) const {
    int count = 0;
    for (int p = first_; p < pitch; ++p)
      count += is_white(p) ? 1 : 0;
    return count;
  }
  double centre(int pitch) const {
    return 32 + 48.0 * whites_below(pitch) + (is_white(pitch) ? 24 : 0);
  }
  void draw_key(int pitch) {
    if (is_white(pitch))
      drawing_.box(centre(pitch) - 24, top_, 48, 180, "#fff", "#000");
    else
      drawing_.box(centre(pitch) - 15, top_, 30, 108, "#bbb", "#000");
  }

  const NeckView& view_;
  LabelKind labels_;
  theory::Key key_;
  Drawing& drawing_;
  double top_;
  int first_ = 0, last_ = 0;
};

double heading_width(const std::vector<std::string>& lines) {
  double widest = 0;
  for (const auto& line : lines)
    widest =
        std::max(widest, static_cast<double>(line.size()) * (&line == &lines.front() ? 10.5 : 7.5));
  return widest + 64;
}

} // namespace

std::string svg(const Setting& setting, const std::optional<theory::Chord>& chord,
                const NeckView& view, LabelKind labels) {
  Drawing drawing;
  const auto lines = headings(setting, chord, view);
  const double top = write_headings(drawing, lines);
  const auto finish = [&](auto picture) {
    picture.draw();
    return drawing.document(std::max(picture.width(), heading_width(lines)), picture.height(),
                            lines.front());
  };
  if (setting.instrument->kind == Instrument::Kind::keyboard)
    return finish(KeyDrawing(setting, view, labels, drawing, top));
  return finish(FretDrawing(setting, view, labels, drawing, top));
}

} // namespace landfall::neck
