#include "song/changes.hpp"
#include "song/parser.hpp"
#include "song/unroll.hpp"
#include "song/writer.hpp"

#include <cstdlib>

/// Any bytes are read; a song is unrolled, written, and must read back equal.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace landfall;
  using namespace landfall::song;
  const ReadSong read = read_song({reinterpret_cast<const char*>(data), size});
  if (!read.song)
    return 0;
  const auto again = parse_song(as_text(*read.song));
  if (!again || *again != *read.song)
    std::abort();
  changes(unroll(*read.song, {{theory::Letter::e, -1}, false}));
  return 0;
}
