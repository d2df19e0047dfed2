// Any bytes as a MIDI stream: what comes out is whole, and so are the events read from it.

#include "midi/decoder.hpp"
#include "midi/input_event.hpp"

#include <cstdint>
#include <cstdlib>

using namespace landfall;

namespace {

void require(bool holds) {
  if (!holds)
    std::abort();
}

void check(const midi::NoteEvent& note) {
  require(note.channel < midi::channel_count && note.note < midi::note_count);
  require(note.velocity < midi::note_count && (!note.on || note.velocity > 0));
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  midi::Decoder decoder;
  midi::InputReader reader;
  for (std::size_t i = 0; i < size; ++i) {
    const auto message = decoder.feed(data[i]);
    if (!message)
      continue;
    require(midi::is_valid(*message));
    const auto event = reader.read({{}, *message});
    if (event && std::holds_alternative<midi::NoteEvent>(*event))
      check(std::get<midi::NoteEvent>(*event));
  }
  for (int channel = 0; channel < midi::channel_count; ++channel)
    require(reader.bend_range_cents(channel) >= 0);
  // The same bytes cut into messages blindly, as an input could hand them over.
  for (std::size_t i = 0; i + 3 < size; i += 4) {
    const midi::ShortMessage raw{{data[i], data[i + 1], data[i + 2]}, data[i + 3]};
    const auto event = reader.read({{}, raw});
    require(!event || midi::is_valid(raw));
  }
  return 0;
}
