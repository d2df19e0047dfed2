#include "neck/tones.hpp"

namespace landfall::neck {

PitchClasses pitch_classes(const std::vector<theory::Note>& notes) {
  unsigned set = 0;
  for (const auto note : notes)
    set |= 1U << pitch_class(note);
  return static_cast<PitchClasses>(set);
}

PitchClasses pitch_classes(const theory::Chord& chord) {
  unsigned set = 0;
  for (const auto degree : chord.degrees)
    set |= 1U << ((pitch_class(chord.root) + pitch_class(degree)) % 12);
  return static_cast<PitchClasses>(set);
}

PitchClasses pitch_classes(theory::Key key) {
  unsigned set = 0;
  for (const auto degree : degrees(key))
    set |= 1U << ((pitch_class(key.tonic) + pitch_class(degree)) % 12);
  return static_cast<PitchClasses>(set);
}

ChordTones::ChordTones(const theory::Chord& chord)
    : root(pitch_class(chord.root)), all(pitch_classes(chord)) {
  const auto numbered = [&](int number) {
    for (const auto degree : chord.degrees)
      if (degree.number == number)
        return pitch_class(degree);
    return -1;
  };
  const auto first_of = [&](int a, int b) { return numbered(a) >= 0 ? numbered(a) : numbered(b); };
  third = first_of(3, 4) >= 0 ? first_of(3, 4) : numbered(2);
  fifth = numbered(5);
  seventh = first_of(7, 6);
  plain_fifth = fifth == 7;
  for (const auto degree : chord.degrees) {
    const int tone = pitch_class(degree);
    if (tone != 0 && tone != third && tone != fifth && tone != seventh &&
        extension_count < static_cast<int>(extensions.size()))
      extensions[static_cast<std::size_t>(extension_count++)] = tone;
  }
}

} // namespace landfall::neck
