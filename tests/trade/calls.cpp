#include "trade/calls.hpp"

#include "song/parser.hpp"
#include "song/unroll.hpp"
#include "time/random.hpp"

#include <algorithm>
#include <array>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <stdexcept>

namespace landfall::trade::testing {
namespace {

namespace fs = std::filesystem;

std::string read(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

neck::Instrument instrument(const std::string& name) {
  const auto text = read(fs::path(LANDFALL_SOURCE_DIR) / "songs/instruments" / name);
  return neck::parse_instrument(text).value();
}

std::vector<song::Form> read_forms() {
  std::vector<fs::path> paths;
  for (const auto& entry : fs::directory_iterator(fs::path(LANDFALL_SOURCE_DIR) / "songs"))
    if (entry.path().extension() == ".song")
      paths.push_back(entry.path());
  std::sort(paths.begin(), paths.end());
  std::vector<song::Form> forms;
  for (const auto& path : paths)
    forms.push_back(song::unroll(song::parse_song(read(path)).value()));
  return forms;
}

constexpr std::array<std::string_view, 6> sets{"arpeggio", "fitting",          "major pentatonic",
                                               "blues",    "minor pentatonic", "major"};

} // namespace

const std::vector<song::Form>& shipped_forms() {
  static const auto forms = read_forms();
  return forms;
}

const std::vector<neck::Instrument>& instruments() {
  static const std::vector<neck::Instrument> all{
      neck::standard_guitar(), instrument("bass.instrument"), instrument("mandolin.instrument"),
      neck::standard_keyboard()};
  return all;
}

const std::vector<Groove>& grooves() {
  static const std::vector<Groove> all{
      {}, {{640, false}, false, false}, {{540, true}, true, false}, {{}, false, true}};
  return all;
}

CallRequest varied_request(std::uint64_t n) {
  const auto pick = [&](std::size_t count, std::uint64_t what) {
    return drawn_below(count, {n, what});
  };
  const auto& form = shipped_forms()[pick(shipped_forms().size(), 1)];
  CallRequest request;
  request.form = &form;
  request.bar = 1 + static_cast<int>(pick(form.bars.size(), 2));
  request.bars = std::array{1, 2, 4}[pick(3, 3)];
  const auto& played = instruments()[pick(instruments().size(), 4)];
  request.setting.instrument = &played;
  request.setting.key = form.key;
  const auto places = neck::all_positions(played, form.key);
  request.setting.home = places[pick(places.size(), 5)];
  request.setting.set = theory::parse_note_set(sets[pick(sets.size(), 6)]).value();
  request.setting.over = theory::usual_over(request.setting.set);
  request.groove = grooves()[pick(grooves().size(), 7)];
  request.density = plain_densities()[pick(3, 8)];
  request.tempo = tempo_from_bpm(std::array{60.0, 84.0, 120.0, 160.0, 240.0}[pick(5, 9)]);
  request.seed = n;
  return request;
}

song::Form form_of(const std::string& progression, const std::string& key) {
  return song::unroll(song::parse_progression(progression).value(), theory::parse_key(key).value());
}

neck::Setting guitar_setting(const std::string& key, const std::string& set, theory::Over over) {
  static const auto guitar = neck::standard_guitar();
  neck::Setting setting;
  setting.instrument = &guitar;
  setting.key = theory::parse_key(key).value();
  setting.home = neck::find_position(guitar, setting.key, {}).value();
  setting.set = theory::parse_note_set(set).value();
  setting.over = over;
  return setting;
}

} // namespace landfall::trade::testing
