#include "neck/position.hpp"

#include "neck/keyboard.hpp"

#include <algorithm>
#include <cctype>

namespace landfall::neck {
namespace {

using Found = Result<Position, std::string>;

Position at_hand(const Fretboard& board, int low) {
  Position position;
  position.low = low;
  position.high = board.under(low).hand.last;
  return position;
}

std::optional<Position> at_shape(const Fretboard& board, theory::Key key, ChordShape shape) {
  const auto low = home_hand(board, key, shape);
  if (!low)
    return std::nullopt;
  auto position = at_hand(board, *low);
  position.shape = shape;
  return position;
}

/// Every octave of one shape of the tonic.
std::vector<Position> octaves(const Fretboard& board, theory::Key key, const ShapeForm& form) {
  std::vector<Position> found;
  const int lowest = lowest_nut(board, form, pitch_class(key.tonic));
  for (int nut = lowest; nut <= board.frets; nut += 12)
    if (auto position = at_shape(board, key, {form.name, nut}))
      found.push_back(*position);
  return found;
}

Found find_by_fret(const Fretboard& board, theory::Key key, int fret) {
  const int last = board.frets - board.hand + 1;
  if (fret < 0 || fret > last)
    return "position " + std::to_string(fret) + " is not on this neck: expected 0 to " +
           std::to_string(std::max(0, last));
  auto position = at_hand(board, fret);
  position.exact = true;
  position.shape = chord_shape(board, position, key, tonic_chord(key));
  return position;
}

Found find_by_shape(const Fretboard& board, theory::Key key, char name, std::optional<int> near) {
  const auto* form = find_shape(name);
  if (form == nullptr)
    return std::string("unknown shape '") + name + "': expected C, A, G, E or D";
  if (!board.shape_offset)
    return std::string("the shapes C A G E D have no meaning in this tuning: ask for a position by "
                       "its fret");
  const auto found = octaves(board, key, *form);
  if (found.empty())
    return std::string("no ") + name + " shape of " + ascii(key) + " fits on this neck";
  if (!near)
    return found.front();
  return *std::min_element(found.begin(), found.end(), [&](const auto& a, const auto& b) {
    return std::abs(a.low - *near) < std::abs(b.low - *near);
  });
}

/// Without shapes: the tonic on the lowest-sounding string, and the hand around it.
Found find_usual(const Fretboard& board, theory::Key key) {
  int lowest = 0;
  for (int string = 1; string < board.count; ++string)
    if (board.strings[static_cast<std::size_t>(string)].open <
        board.strings[static_cast<std::size_t>(lowest)].open)
      lowest = string;
  const auto& string = board.strings[static_cast<std::size_t>(lowest)];
  const int fret = (pitch_class(key.tonic) - pitch_class(string.open) + 12) % 12;
  const auto low = home_hand(board, key, {'\0', fret + (fret > 0 ? string.first_fret : 0)});
  if (!low)
    return std::string("the neck is too short for a hand in ") + ascii(key);
  return at_hand(board, *low);
}

} // namespace

Found find_position(const Instrument& instrument, theory::Key key, const PlaceRequest& request) {
  if (instrument.kind == Instrument::Kind::keyboard)
    return find_span(instrument, key, request);
  const Fretboard board(instrument);
  if (board.count == 0)
    return std::string("the instrument has no strings");
  const auto shape = request.shape ? std::optional(static_cast<char>(
                                         std::toupper(static_cast<unsigned char>(*request.shape))))
                                   : std::nullopt;
  if (shape)
    return find_by_shape(board, key, *shape, request.position);
  if (request.position)
    return find_by_fret(board, key, *request.position);
  if (board.shape_offset)
    return find_by_shape(board, key, 'E', std::nullopt);
  return find_usual(board, key);
}

std::vector<Position> all_positions(const Instrument& instrument, theory::Key key) {
  if (instrument.kind == Instrument::Kind::keyboard)
    return all_spans(instrument, key);
  const Fretboard board(instrument);
  std::vector<Position> all;
  if (board.shape_offset) {
    for (const auto& form : shape_forms())
      for (const auto& position : octaves(board, key, form))
        all.push_back(position);
    std::sort(all.begin(), all.end(), [](const Position& a, const Position& b) {
      return a.shape->nut != b.shape->nut ? a.shape->nut < b.shape->nut : a.low < b.low;
    });
  } else {
    for (int low = 0; board.fits(low); ++low)
      all.push_back(at_hand(board, low));
    for (auto& position : all)
      position.exact = true;
  }
  return all;
}

} // namespace landfall::neck
