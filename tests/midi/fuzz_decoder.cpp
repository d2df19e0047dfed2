// Any bytes as a MIDI stream: what comes out is whole, and so are the events read from it, in every
// input mode.

#include "midi/decoder.hpp"
#include "midi/input_reader.hpp"

#include <array>
#include <cmath>
#include <cstdint>
#include <cstdlib>

using namespace landfall;

namespace {

void require(bool holds) {
  if (!holds)
    std::abort();
}

void check(const midi::InputEvent& event, const midi::InputSetup& setup) {
  if (const auto* note = std::get_if<midi::NoteEvent>(&event)) {
    require(note->channel < midi::channel_count && note->note < midi::note_count);
    require(note->velocity < midi::note_count && (!note->on || note->velocity > 0));
    require(note->string == midi::string_of(setup, note->channel));
  } else if (const auto* bend = std::get_if<midi::BendEvent>(&event)) {
    require(bend->channel < midi::channel_count && std::isfinite(bend->cents));
  } else if (const auto* pedal = std::get_if<midi::PedalEvent>(&event)) {
    require(pedal->channel < midi::channel_count);
  }
}

void read_in(const midi::InputSetup& setup, const std::uint8_t* data, std::size_t size) {
  midi::Decoder decoder;
  midi::InputReader reader(setup);
  midi::ModeDetector detector;
  const auto read = [&](const midi::ShortMessage& message) {
    detector.hear(message);
    const auto events = reader.read({{}, message});
    require(events.empty() || midi::is_valid(message));
    for (const auto& event : events)
      check(event, setup);
  };
  for (std::size_t i = 0; i < size; ++i)
    if (const auto message = decoder.feed(data[i])) {
      require(midi::is_valid(*message));
      read(*message);
    }
  for (int channel = 0; channel < midi::channel_count; ++channel)
    require(reader.bend_range_cents(channel) >= 0);
  // The same bytes cut into messages blindly, as an input could hand them over.
  for (std::size_t i = 0; i + 3 < size; i += 4)
    read({{data[i], data[i + 1], data[i + 2]}, data[i + 3]});
  const auto proposal = detector.proposal(setup);
  require(!proposal || !(proposal->mode == setup.mode && *proposal == setup));
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  for (const auto mode : {midi::InputMode::one_channel, midi::InputMode::per_string,
                          midi::InputMode::mpe_lower, midi::InputMode::mpe_upper}) {
    midi::InputSetup setup;
    setup.mode = mode;
    setup.base_channel = size > 0 ? data[0] & 0x0F : 0;
    read_in(setup, data, size);
  }
  return 0;
}
