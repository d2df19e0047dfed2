#include "render/chord.hpp"

#include "render/style.hpp"

namespace landfall::render {

namespace {

/// A piece of the symbol: what is set, how large, how far above the baseline.
struct Piece {
  Face face;
  int size;
  int raise;
  std::string_view text;
};

int part_of(int size, double share) {
  return std::max(1, static_cast<int>(std::lround(size * share)));
}

std::string_view accidental_sign(int accidental) {
  return accidental < 0 ? "♭" : "♯";
}

/// Sharps hang below the baseline, so they are raised less.
Piece accidental_piece(int accidental, int size, double share) {
  const double raise = type::accidental_raise + (accidental > 0 ? type::sharp_raise : 0.0);
  return {Face::music, part_of(size, share * type::accidental * type::sign),
          part_of(size, share * raise), accidental_sign(accidental)};
}

/// Visits the pieces from left to right.
template <typename Visit> void each_piece(const ChordText& chord, int size, Visit visit) {
  auto note = [&](std::string_view letter, int accidental, Face face, double share) {
    const bool numeral = letter.find_first_of("IVXivx") == 0;
    auto signs = [&] {
      for (int i = 0; i < std::min(std::abs(accidental), 2); ++i)
        visit(accidental_piece(accidental, size, share));
    };
    if (numeral)
      signs();
    visit(Piece{face, part_of(size, share), 0, letter});
    if (!numeral)
      signs();
  };
  if (chord.none)
    return visit(Piece{Face::semibold, part_of(size, type::bass), 0, "N.C."});
  if (chord.root.empty())
    return;
  note(chord.root, chord.accidental, Face::bold, 1.0);
  visit(Piece{Face::semibold, part_of(size, type::quality), 0, chord.quality});
  if (chord.bass.empty())
    return;
  visit(Piece{Face::regular, part_of(size, type::bass), 0, "/"});
  note(chord.bass, chord.bass_accidental, Face::semibold, type::bass);
}

bool is_root(const Piece& piece) {
  return piece.face == Face::bold;
}

} // namespace

int chord_width(const Pen& pen, const ChordText& chord, int size) {
  int sum = 0;
  each_piece(chord, size, [&](const Piece& piece) {
    sum += pen.width({piece.face, piece.size, {}}, piece.text);
    if (is_root(piece))
      sum += part_of(size, type::chord_gap);
  });
  return sum;
}

int chord_size_within(const Pen& pen, const ChordText& chord, int size, int room) {
  const int least = std::max(size / 3, 8);
  while (size > least && chord_width(pen, chord, size) > room)
    size = std::max(least, std::min(size - 1, size * 15 / 16));
  return size;
}

int write_chord(Pen& pen, const ChordText& chord, int size, Point at, Color color) {
  pen.next_block();
  int x = at.x;
  each_piece(chord, size, [&](const Piece& piece) {
    x += pen.write_on({piece.face, piece.size, color}, {x, at.y - piece.raise}, piece.text);
    if (is_root(piece))
      x += part_of(size, type::chord_gap);
  });
  return x - at.x;
}

} // namespace landfall::render
