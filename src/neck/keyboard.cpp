#include "neck/keyboard.hpp"

namespace landfall::neck {
namespace {

bool fits(const Instrument& keyboard, int low) {
  return low >= keyboard.lowest.number && low + keyboard.hand <= keyboard.highest.number;
}

Position span_from(const Instrument& keyboard, int low) {
  Position position;
  position.low = low;
  position.high = low + keyboard.hand;
  return position;
}

/// The key's root, third or fifth nearest to middle C, at most a fourth below it.
int inversion_start(theory::Key key, int inversion) {
  const auto chord = tonic_chord(key);
  const auto degree = chord.degrees[static_cast<std::size_t>(inversion)];
  const int pitch = pitch_class(chord.root) + pitch_class(degree);
  return 55 + (pitch % 12 + 12 - 55 % 12) % 12;
}

} // namespace

Result<Position, std::string> find_span(const Instrument& keyboard, theory::Key key,
                                        const PlaceRequest& request) {
  if (request.shape)
    return std::string("a keyboard has no shapes: ask for an inversion with position 0, 1 or 2");
  const int asked = request.position.value_or(0);
  if (asked < 0 || (asked > 2 && asked < 12) || asked > 127)
    return std::string("expected an inversion from 0 to 2 or a MIDI note from 12 up");
  const int low = asked <= 2 ? inversion_start(key, asked) : asked;
  if (!fits(keyboard, low))
    return std::string("the keyboard has no room for a hand that starts at ") +
           ascii(theory::MidiNote{low});
  auto position = span_from(keyboard, low);
  position.exact = true;
  return position;
}

std::vector<Position> all_spans(const Instrument& keyboard, theory::Key key) {
  const auto tonic = pitch_classes(tonic_chord(key));
  std::vector<Position> all;
  for (int low = keyboard.lowest.number; fits(keyboard, low); ++low)
    if (has(tonic, low)) {
      all.push_back(span_from(keyboard, low));
      all.back().exact = true;
    }
  return all;
}

} // namespace landfall::neck
