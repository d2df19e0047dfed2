#include "band/fixture.hpp"

#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <sstream>

namespace landfall::band::testing {
namespace {

song::Bar bar_of(const std::string& text, song::Meter meter, const theory::Key& key,
                 const song::Bar* before) {
  song::Bar bar;
  bar.meter = meter;
  bar.key = key;
  std::vector<std::string> symbols;
  std::istringstream words(text);
  for (std::string word; words >> word;) {
    if (word == "!")
      bar.section_start = true;
    else
      symbols.push_back(word);
  }
  const auto beats = song::beats_in_bar(meter);
  for (std::size_t i = 0; i < symbols.size(); ++i) {
    song::ChordAt entry;
    const auto beat =
        static_cast<std::int64_t>(i) * beats / static_cast<std::int64_t>(symbols.size());
    entry.at = song::beat_length(meter) * beat;
    if (symbols[i] == "%") {
      REQUIRE(before != nullptr);
      entry.chord = before->chords.back().chord;
      entry.fresh = false;
    } else if (symbols[i] != "NC") {
      const auto chord = theory::parse_chord(symbols[i]);
      REQUIRE_MESSAGE(chord, symbols[i]);
      entry.chord = *chord;
    }
    bar.chords.push_back(entry);
  }
  return bar;
}

} // namespace

std::string read_source(const std::string& path) {
  std::ifstream file(std::string(LANDFALL_SOURCE_DIR) + "/" + path, std::ios::binary);
  REQUIRE_MESSAGE(file, path);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

const Book& shipped() {
  static const Book book = [] {
    Book loaded;
    const auto folder = std::filesystem::path(LANDFALL_SOURCE_DIR) / "songs" / "feels";
    for (const auto& entry : std::filesystem::directory_iterator(folder))
      if (entry.path().extension() == ".feel") {
        const auto name = entry.path().stem().string();
        auto feel = parse_feel(read_source("songs/feels/" + entry.path().filename().string()));
        REQUIRE_MESSAGE(feel, name << ": " << (feel ? "" : feel.error().reason));
        REQUIRE(feel->name == name);
        loaded.add(std::move(feel).value());
      }
    return loaded;
  }();
  return book;
}

song::Form form_of(const std::string& changes, const std::string& key, const std::string& feel,
                   song::Meter meter) {
  song::Form form;
  form.feel = feel;
  form.key = *theory::parse_key(key);
  form.tempo = tempo_from_bpm(110);
  std::istringstream bars(changes);
  for (std::string text; std::getline(bars, text, '|');) {
    auto bar = bar_of(text, meter, form.key, form.bars.empty() ? nullptr : &form.bars.back());
    bar.number = static_cast<int>(form.bars.size()) + 1;
    bar.start = form.length;
    bar.feel = feel;
    form.length += song::bar_length(meter);
    form.bars.push_back(bar);
  }
  return form;
}

std::vector<song::Form> forms(const std::string& feel) {
  return {
      form_of("A | A | D | D | A | E | D | A", "A", feel),
      form_of("Dm7 | G7 | Cmaj7 | A7b9 | Dm7 G7 | Em7 A7 | Dm7 G7/B | C6", "C", feel),
      form_of("! Cm7 | Fm7 | Dm7b5 G7b9 | Cm | ! Abmaj7 Abmaj7/C | Db7#11 % | NC | G7sus4 G7 | "
              "! F/G | Ebdim7 Edim7 Fm6 F#dim7 | Gaug | CmMaj7 | NC C5 | Csus2 | D9/F# G13 | Cm6",
              "Cm", feel),
      form_of("F#m7 | B9 | Emaj9 | C#m7 | % | % | A/B | E6/9", "E", feel, {3, 4}),
      form_of("G | C/G D/F# | Em | Am7 D7", "G", feel, {6, 8}),
      form_of("Ebm7 | Ab13 | Ebm7 | Ab7", "Ebm", feel, {5, 4}),
      form_of("D | C | G D | A7", "D", feel, {7, 8}),
      form_of("Bb7", "Bb", feel),
      form_of("A7 | D7 D#dim7 | A7/E | E7#9", "A", feel, {12, 8}),
      form_of("C | F", "C", feel, {2, 2}),
      form_of("C | F | G7", "C", feel, {3, 8}),
      form_of("Am | G | F", "Am", feel, {2, 4}),
  };
}

std::vector<std::string> oracle_symbols(const std::string& root) {
  std::vector<std::string> result;
  std::istringstream lines(read_source("tests/oracle/chords.csv"));
  std::string line;
  std::getline(lines, line);
  while (std::getline(lines, line)) {
    const auto symbol = line.substr(0, line.find(','));
    if (symbol.starts_with("C"))
      result.push_back(root + symbol.substr(1));
  }
  return result;
}

Request request_for(const song::Form& form, int chorus, double intensity, std::uint64_t seed) {
  Request request;
  request.form = &form;
  request.next = &form;
  request.chorus = chorus;
  request.intensity = intensity;
  request.seed = seed;
  return request;
}

} // namespace landfall::band::testing
