// Density files from arbitrary bytes: a clear error, or a density from which a call can be made.

#include "trade/call.hpp"

#include <cstdint>
#include <cstdlib>
#include <string_view>

using namespace landfall;

namespace {

void require(bool holds) {
  if (!holds)
    std::abort();
}

song::Form two_bars() {
  song::Form form;
  form.key = theory::Key{};
  for (int i = 0; i < 2; ++i) {
    song::Bar bar;
    bar.number = i + 1;
    bar.start = quarter * 4 * i;
    bar.chords = {{Ticks{}, theory::parse_chord(i == 0 ? "C" : "G7").value()}};
    form.bars.push_back(bar);
  }
  form.length = quarter * 8;
  return form;
}

void make(const trade::Density& density) {
  static const auto form = two_bars();
  static const auto guitar = neck::standard_guitar();
  trade::CallRequest request;
  request.form = &form;
  request.setting.instrument = &guitar;
  request.setting.home = neck::find_position(guitar, request.setting.key, {}).value();
  request.tempo = tempo_from_bpm(400);
  request.density = density;
  for (const auto& note : trade::make_call(request).notes)
    require(note.midi.number >= 0 && note.midi.number <= 127 && note.length > Ticks{});
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  const auto density = trade::parse_density(text);
  if (density)
    make(*density);
  else
    require(!density.error().reason.empty() && density.error().line >= 1 &&
            density.error().column >= 1);
  return 0;
}
