#include "app/sheet_pen.hpp"

#include "theory/words.hpp"

#include <cmath>
#include <cstdlib>

namespace landfall::app::sheet {
namespace {

constexpr double sign_scale = 1.2; ///< The signs' own font draws them small.
constexpr double sharp_raise = 0.07;
constexpr int measured_size = 1000;

// Of a chord symbol's root.
constexpr double quality_scale = 0.58, bass_scale = 0.68, quality_raise = 0.26;
constexpr double accidental_scale = 0.84, accidental_raise = 0.3, chord_gap = 0.04;

/// The bytes of the character at the front.
std::size_t character(std::string_view text) {
  std::size_t length = 1;
  while (length < text.size() && (static_cast<unsigned char>(text[length]) & 0xC0U) == 0x80U)
    ++length;
  return length;
}

/// The bytes of the character at the end.
std::size_t last_character(std::string_view text) {
  std::size_t length = 1;
  while (length < text.size() &&
         (static_cast<unsigned char>(text[text.size() - length]) & 0xC0U) == 0x80U)
    ++length;
  return length;
}

bool is_music(std::string_view character) {
  return character == "♭" || character == "♯" || character == "♮" ||
         character.starts_with("\xF0\x9D\x84") || character.starts_with("\xF0\x9D\x85");
}

Face music_face(Face beside) {
  return beside == Face::regular ? Face::music : Face::music_bold;
}

struct Run {
  std::string_view text;
  Face face;
  double size;
  double raise;
};

/// Visits the runs of a text, each in one face.
template <typename Visit> void each_run(const Style& style, std::string_view text, Visit visit) {
  while (!text.empty()) {
    const auto first = character(text);
    if (is_music(text.substr(0, first))) {
      const bool sharp = text.substr(0, first) == "♯";
      visit(Run{text.substr(0, first), music_face(style.face), style.size * sign_scale,
                sharp ? style.size * sharp_raise : 0});
      text.remove_prefix(first);
      continue;
    }
    std::size_t end = first;
    while (end < text.size() && !is_music(text.substr(end, character(text.substr(end)))))
      end += character(text.substr(end));
    visit(Run{text.substr(0, end), style.face, style.size, 0});
    text.remove_prefix(end);
  }
}

/// A piece of a chord symbol; how far it stands above the baseline.
struct Piece {
  std::string text;
  Style style;
  double raise = 0;
};

std::vector<Piece> pieces_of(const render::ChordText& chord, double size) {
  if (chord.none)
    return {{"N.C.", {size * bass_scale, Face::semibold}}};
  std::vector<Piece> pieces{{chord.root, {size, Face::bold}}};
  const auto signs = [&](int accidental, double of) {
    for (int i = 0; i < std::min(std::abs(accidental), 2); ++i)
      pieces.push_back({accidental < 0 ? "♭" : "♯",
                        {of * accidental_scale / sign_scale, Face::bold},
                        of * accidental_raise});
  };
  signs(chord.accidental, size);
  if (!chord.quality.empty())
    pieces.push_back({chord.quality, {size * quality_scale, Face::semibold}, size * quality_raise});
  if (chord.bass.empty())
    return pieces;
  pieces.push_back({"/", {size * bass_scale}});
  pieces.push_back({chord.bass, {size * bass_scale, Face::semibold}});
  signs(chord.bass_accidental, size * bass_scale);
  return pieces;
}

} // namespace

double run_width(const render::TextMetrics& metrics, Face face, double size,
                 std::string_view text) {
  return metrics.measure(face, measured_size, text).width * size / measured_size;
}

double Pen::width(const Style& style, std::string_view text) const {
  double sum = 0;
  each_run(style, text,
           [&](const Run& run) { sum += run_width(metrics_, run.face, run.size, run.text); });
  return sum;
}

double Pen::write(const Style& style, double x, double y, std::string_view text, Align align) {
  const double whole = width(style, text);
  x -= align == Align::left ? 0 : align == Align::middle ? whole / 2 : whole;
  each_run(style, text, [&](const Run& run) {
    const double wide = run_width(metrics_, run.face, run.size, run.text);
    add(Words{x, y - run.raise, run.size, run.face, std::string(run.text), wide, style.grey});
    x += wide;
  });
  return whole;
}

std::string Pen::shortened(const Style& style, std::string_view text, double room) const {
  if (width(style, text) <= room)
    return std::string(text);
  while (!text.empty()) {
    text.remove_suffix(last_character(text));
    if (auto cut = std::string(trimmed(text)) + "…"; width(style, cut) <= room)
      return cut;
  }
  return "";
}

std::vector<std::string> Pen::wrapped(const Style& style, std::string_view text,
                                      double room) const {
  std::vector<std::string> lines;
  std::string line;
  for (const auto word : words(text)) {
    const auto longer = line.empty() ? std::string(word) : line + " " + std::string(word);
    if (!line.empty() && width(style, longer) > room) {
      lines.push_back(line);
      line = shortened(style, word, room);
    } else {
      line = line.empty() ? shortened(style, word, room) : longer;
    }
  }
  if (!line.empty())
    lines.push_back(line);
  return lines;
}

double Pen::write_wrapped(const Style& style, double x, double y, std::string_view text,
                          double room, double leading) {
  for (const auto& line : wrapped(style, text, room)) {
    write(style, x, y, line);
    y += style.size * leading;
  }
  return y;
}

double Pen::chord_width(const render::ChordText& chord, double size) const {
  double sum = 0;
  for (const auto& piece : pieces_of(chord, size))
    sum += width(piece.style, piece.text) + size * chord_gap;
  return sum;
}

double Pen::write_chord(const render::ChordText& chord, double size, double x, double y) {
  const double start = x;
  for (const auto& piece : pieces_of(chord, size))
    x += write(piece.style, x, y - piece.raise, piece.text) + size * chord_gap;
  return x - start;
}

} // namespace landfall::app::sheet
