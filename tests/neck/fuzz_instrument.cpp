// Instrument files from arbitrary bytes: a clear error, or an instrument that can be played.

#include "neck/view.hpp"

#include <cstdint>
#include <cstdlib>
#include <string_view>

using namespace landfall;

namespace {

void require(bool holds) {
  if (!holds)
    std::abort();
}

void check_error(const TextError& error, std::string_view text) {
  require(!error.reason.empty());
  require(error.line >= 1 && error.column >= 1);
  require(static_cast<std::size_t>(error.column) <= text.size() + 2);
}

void play(const neck::Instrument& instrument) {
  neck::Setting setting;
  setting.instrument = &instrument;
  setting.key = theory::Key{};
  setting.set = theory::parse_note_set("major").value();
  setting.over = theory::Over::key;
  const auto chord = theory::parse_chord("G7").value();
  const auto home = neck::find_position(instrument, setting.key, {});
  if (!home) {
    require(!home.error().empty());
    return;
  }
  setting.home = *home;
  for (const auto& note : neck::view(setting, chord, {.groups = true, .grips = false}).notes)
    require(note.midi.number >= 0 && note.midi.number <= 127);
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  const auto instrument = neck::parse_instrument(text);
  if (instrument)
    play(*instrument);
  else
    check_error(instrument.error(), text);
  if (const auto tuning = neck::parse_tuning(text); !tuning)
    check_error(tuning.error(), text);
  return 0;
}
