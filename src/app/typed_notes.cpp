#include "app/typed_notes.hpp"

#include <array>

namespace landfall::app {
namespace {

constexpr std::array<std::string_view, 4> rows{"1234567890", "QWERTYUIOP", "ASDFGHJKL;",
                                               "ZXCVBNM,./"};
constexpr std::string_view lower_octave = "ZSXDCVGBHNJM", upper_octave = "Q2W3ER5T6Y7U";

std::optional<TypedNote> on_keyboard(char key, const neck::Position& position) {
  const int lowest_c = position.low - position.low % 12;
  if (const auto at = lower_octave.find(key); at != std::string_view::npos)
    return TypedNote{lowest_c + static_cast<int>(at), {}, {}};
  if (const auto at = upper_octave.find(key); at != std::string_view::npos)
    return TypedNote{lowest_c + 12 + static_cast<int>(at), {}, {}};
  return std::nullopt;
}

std::optional<TypedNote> on_neck(char key, bool shift, const neck::Fretboard& board,
                                 const neck::Position& position) {
  for (std::size_t row = 0; row < rows.size(); ++row) {
    const auto column = rows[row].find(key);
    if (column == std::string_view::npos)
      continue;
    const int number = static_cast<int>(row) + (shift ? 3 : 1);
    const int fret = std::max(position.low - 1, 0) + static_cast<int>(column);
    if (number > board.count)
      return std::nullopt;
    if (const auto pitch = board.pitch(board.count - number, fret))
      return TypedNote{*pitch, number, fret};
  }
  return std::nullopt;
}

} // namespace

std::optional<TypedNote> typed_note(std::string_view key, bool shift,
                                    const neck::Instrument& instrument,
                                    const neck::Position& position) {
  if (key.size() != 1)
    return std::nullopt;
  if (instrument.kind == neck::Instrument::Kind::keyboard)
    return on_keyboard(key.front(), position);
  return on_neck(key.front(), shift, neck::Fretboard(instrument), position);
}

} // namespace landfall::app
