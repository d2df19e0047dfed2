#include "render/chord.hpp"

#include "render/style.hpp"

#include <cstdlib>
#include <vector>

namespace landfall::render {

namespace {

/// A piece of the symbol: what is set, how large, how far above its baseline. The head is the root
/// with its accidental; the rest is the tail.
struct Piece {
  Face face;
  int size;
  int raise;
  std::string_view text;
  bool tail;
};

int part_of(int size, double share) {
  return std::max(1, static_cast<int>(std::lround(size * share)));
}

/// Sharps hang below their baseline, so they are raised more.
Piece accidental_piece(int accidental, int size, Face face, bool tail) {
  const double raise = type::accidental_raise + (accidental > 0 ? type::sharp_raise : 0.0);
  return {face, part_of(size, type::accidental * type::sign), part_of(size, raise),
          accidental < 0 ? "♭" : "♯", tail};
}

/// A letter, or a numeral with the accidental before it.
template <typename Visit>
void note_pieces(std::string_view letter, int accidental, int size, Face face, bool tail,
                 Visit visit) {
  const bool numeral = letter.find_first_of("IVXivx") == 0;
  const Piece name{face, size, 0, letter, tail};
  if (!numeral)
    visit(name);
  for (int i = 0; i < std::min(std::abs(accidental), 2); ++i)
    visit(accidental_piece(accidental, size, Face::music_bold, tail));
  if (numeral)
    visit(name);
}

/// Visits the pieces from left to right.
template <typename Visit> void each_piece(const ChordText& chord, ChordSize size, Visit visit) {
  const double shrunk = size.stacked ? type::stacked / type::quality : 1.0;
  if (chord.none)
    return visit(Piece{Face::semibold, part_of(size.root, type::bass), 0, "N.C.", false});
  if (chord.root.empty())
    return;
  note_pieces(chord.root, chord.accidental, size.root, Face::bold, false, visit);
  if (size.cut)
    return visit(Piece{Face::semibold,
                       std::max(part_of(size.root, type::quality), type::least_root), 0, "…",
                       true});
  visit(Piece{Face::semibold, part_of(size.root, type::quality * shrunk), 0, chord.quality, true});
  if (chord.bass.empty())
    return;
  const int bass = part_of(size.root, size.stacked ? type::stacked : type::bass);
  visit(Piece{Face::regular, bass, 0, "/", true});
  note_pieces(chord.bass, chord.bass_accidental, bass, Face::semibold, true, visit);
}

/// The next smaller size to try, not below `least`.
int smaller(int size, int least) {
  return std::max(least, std::min(size - 1, size * 7 / 8));
}

bool has_tail(const ChordText& chord) {
  return !chord.none && (!chord.quality.empty() || !chord.bass.empty());
}

/// The largest of the sizes from the one given down by eighths that has room, at least `least`.
/// The first guess is made from the width of that one: each size that is tried opens fonts.
int size_within(const Pen& pen, const ChordText& chord, ChordSize size, int room, int least) {
  const int width = chord_width(pen, chord, size);
  if (width <= room || size.root <= least)
    return size.root;
  const auto fits = [&](int root) { return chord_width(pen, chord, {root, size.stacked}) <= room; };
  int root = size.root;
  while (root > least && root * width > room * size.root)
    root = smaller(root, least);
  while (root > least && !fits(root))
    root = smaller(root, least);
  return root;
}

} // namespace

int chord_width(const Pen& pen, const ChordText& chord, ChordSize size) {
  int head = 0, tail = 0;
  each_piece(chord, size, [&](const Piece& piece) {
    (piece.tail ? tail : head) += pen.width({piece.face, piece.size, {}}, piece.text);
  });
  return size.stacked ? std::max(head, tail) : head + part_of(size.root, type::chord_gap) + tail;
}

namespace {

/// In one line with all that it has; it may be wider than `room`.
ChordSize whole_line(const Pen& pen, const ChordText& chord, int wanted, int room) {
  const int least = has_tail(chord) ? std::max(wanted / 3, type::least_in_line) : type::least_root;
  return {size_within(pen, chord, {wanted}, room, least)};
}

ChordSize cut_line(const Pen& pen, const ChordText& chord, int wanted, int room) {
  return {size_within(pen, chord, {wanted, false, true}, room, type::least_root), false, true};
}

} // namespace

ChordSize fit_chord_line(const Pen& pen, const ChordText& chord, int wanted, int room) {
  const ChordSize whole = whole_line(pen, chord, wanted, room);
  if (!has_tail(chord) || chord_width(pen, chord, whole) <= room)
    return whole;
  return cut_line(pen, chord, wanted, room);
}

ChordSize fit_chord(const Pen& pen, const ChordText& chord, int wanted, int room) {
  const ChordSize line = whole_line(pen, chord, wanted, room);
  const bool fits = chord_width(pen, chord, line) <= room;
  if (!has_tail(chord) || (fits && line.root * 8 >= wanted * 5))
    return line;
  const int below = std::max(wanted * 3 / 4, type::least_stacked);
  const int least = std::max(below / 3, type::least_stacked);
  const ChordSize stacked{size_within(pen, chord, {below, true}, room, least), true};
  if (chord_width(pen, chord, stacked) <= room)
    return stacked;
  return fits ? line : cut_line(pen, chord, wanted, room);
}

int write_chord(Pen& pen, const ChordText& chord, ChordSize size, Point at, Color color) {
  pen.next_block();
  const int drop = size.stacked ? part_of(size.root, type::stacked_drop) : 0;
  int head = at.x, tail = at.x;
  each_piece(chord, size, [&](const Piece& piece) {
    if (!piece.tail || size.stacked) {
      int& x = piece.tail ? tail : head;
      x += pen.write_on({piece.face, piece.size, color},
                        {x, at.y + (piece.tail ? drop : 0) - piece.raise}, piece.text);
      return;
    }
    tail = std::max(tail, head + part_of(size.root, type::chord_gap));
    tail += pen.write_on({piece.face, piece.size, color}, {tail, at.y - piece.raise}, piece.text);
  });
  return std::max(head, tail) - at.x;
}

} // namespace landfall::render
