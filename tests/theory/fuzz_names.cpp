// Names of chords, scales, keys, note sets and numerals from arbitrary bytes.

#include "theory/chord.hpp"
#include "theory/key.hpp"
#include "theory/note_set.hpp"
#include "theory/roman.hpp"
#include "theory/scale.hpp"

#include <cstdint>
#include <cstdlib>
#include <string_view>

using namespace landfall;

namespace {

void require(bool holds) {
  if (!holds)
    std::abort();
}

// An error says something, and points into the text or just behind it.
template <typename Read> void require_sound_error(const Read& read, std::string_view text) {
  if (read)
    return;
  const TextError& error = read.error();
  require(!error.reason.empty());
  require(error.column >= 1 && static_cast<std::size_t>(error.column) <= text.size() + 1);
}

// What the program writes, it can read back, from the same root and over the same bass.
void check_chord(std::string_view text) {
  const auto chord = theory::parse_chord(text);
  require_sound_error(chord, text);
  if (!chord)
    return;
  require(theory::notes(*chord).size() == chord->degrees.size());
  const auto again = theory::parse_chord(theory::ascii(*chord));
  require(again && again->root == chord->root && again->bass == chord->bass);
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  check_chord(text);
  require_sound_error(theory::parse_key(text), text);
  require_sound_error(theory::parse_note_set(text), text);
  require_sound_error(theory::parse_rooted_scale(text), text);
  const auto key = theory::parse_key("Eb");
  require_sound_error(theory::parse_numeral(text, *key), text);
  return 0;
}
