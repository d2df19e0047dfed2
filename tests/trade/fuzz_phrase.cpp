// Phrase files from arbitrary bytes: a clear error, or a phrase that is written and read again as
// it is.

#include "trade/phrase_file.hpp"

#include <cstdint>
#include <cstdlib>
#include <string_view>

using namespace landfall;

namespace {

void require(bool holds) {
  if (!holds)
    std::abort();
}

void look_at(const trade::KeptPhrase& kept) {
  const auto& phrase = kept.phrase;
  require(!kept.name.empty() && !phrase.notes.empty() && !phrase.chords.empty());
  for (const auto& note : phrase.notes)
    require(note.midi.number >= 0 && note.midi.number <= 127 && note.length > Ticks{} &&
            note.start < phrase.length && note.chord < static_cast<int>(phrase.chords.size()));
  require(!trade::phrase_text(kept).empty());
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  const auto kept = trade::read_phrase(text);
  if (kept)
    look_at(*kept);
  else
    require(!kept.error().reason.empty() && kept.error().line >= 1 && kept.error().column >= 1);
  return 0;
}
