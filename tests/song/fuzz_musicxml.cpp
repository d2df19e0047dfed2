// MusicXML from arbitrary bytes: an error, or a song that is written and read again.

#include "song/musicxml.hpp"
#include "song/parser.hpp"
#include "song/writer.hpp"

#include <cstdint>
#include <cstdlib>

using namespace landfall;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto imported = song::import_musicxml({reinterpret_cast<const char*>(data), size});
  if (!imported.song) {
    if (imported.diagnostics.empty())
      std::abort();
    return 0;
  }
  if (!song::parse_song(as_text(*imported.song)))
    std::abort();
  return 0;
}
