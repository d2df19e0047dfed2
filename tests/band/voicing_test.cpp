#include "band/fixture.hpp"
#include "band/guitar.hpp"
#include "band/voicing.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace landfall;
using namespace landfall::band;

namespace {

const char* const roots[] = {"C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B"};

std::vector<VoicingWish> wishes() {
  std::vector<VoicingWish> result;
  for (const auto colour : {Colour::plain, Colour::ninths, Colour::rich})
    for (const auto hands : {Hands::keys, Hands::guitar})
      for (const int voices : {3, 4, 5})
        for (const int top : {64, 67, 70})
          result.push_back({colour, hands, voices, {top}});
  return result;
}

bool sounds(const Voicing& voicing, int tone) {
  return std::any_of(voicing.begin(), voicing.end(),
                     [&](theory::MidiNote note) { return theory::pitch_class(note) == tone; });
}

} // namespace

TEST_CASE("every chord symbol has a clear voicing in the register with its guide tones") {
  const auto key = *theory::parse_key("C");
  for (const auto* root : roots)
    for (const auto& symbol : band::testing::oracle_symbols(root))
      for (const auto& wish : wishes()) {
        CAPTURE(symbol);
        const auto chord = *theory::parse_chord(symbol);
        const auto voicing = voiced(chord, key, wish, {});
        REQUIRE(voicing.size() >= 2);
        CHECK(voicing.size() <= static_cast<std::size_t>(wish.voices));
        CHECK(voicing.front() >= lowest_comping);
        CHECK(voicing.back() <= highest_comping);
        CHECK(std::adjacent_find(voicing.begin(), voicing.end(),
                                 [](auto a, auto b) { return !(a < b); }) == voicing.end());
        for (const auto degree : theory::guide_tones(chord))
          CHECK(sounds(voicing,
                       (theory::pitch_class(chord.root) + theory::pitch_class(degree)) % 12));
        const auto allowed = comping_tones(chord, key, wish.colour);
        for (const auto note : voicing)
          CHECK(std::find(allowed.begin(), allowed.end(), theory::pitch_class(note)) !=
                allowed.end());
      }
}

TEST_CASE("a guitar can play what a guitar comps") {
  const auto playable = [](std::initializer_list<int> notes) {
    Voicing voicing;
    for (const int note : notes)
      voicing.push_back({note});
    return playable_on_guitar(voicing);
  };
  CHECK(playable({48, 52, 55, 60, 64}));   // the open C shape
  CHECK(playable({48, 58, 63, 67}));       // Cm7 with its root on the fifth string
  CHECK_FALSE(playable({48, 49, 50, 51})); // a cluster
  CHECK_FALSE(playable({48, 55, 60, 64, 67, 72, 76}));
  const auto key = *theory::parse_key("C");
  for (const auto colour : {Colour::plain, Colour::ninths, Colour::rich})
    for (const int voices : {3, 4}) {
      const VoicingWish wish{colour, Hands::guitar, voices, {67}};
      Voicing before;
      for (const auto& symbol : band::testing::oracle_symbols("C"))
        for (const auto* root : roots) {
          const auto text = root + symbol.substr(1);
          CAPTURE(text);
          before = voiced(*theory::parse_chord(text), key, wish, before);
          CHECK(playable_on_guitar(before));
        }
    }
}

TEST_CASE("from any chord to any other the voices move little") {
  const auto key = *theory::parse_key("C");
  const VoicingWish wish{Colour::ninths, Hands::keys, 4, {67}};
  int all = 0;
  int moves = 0;
  const auto symbols = band::testing::oracle_symbols("C");
  for (const auto& first : symbols)
    for (const auto* root : roots)
      for (const auto& second : band::testing::oracle_symbols(root)) {
        const auto before = voiced(*theory::parse_chord(first), key, wish, {});
        const auto after = voiced(*theory::parse_chord(second), key, wish, before);
        const int moved = motion(before, after);
        CHECK(moved <= 6 * static_cast<int>(after.size()));
        all += moved;
        moves += static_cast<int>(after.size());
      }
  CHECK(all < 2 * moves); // less than a whole step a voice on average
}

TEST_CASE("colour adds what the key has, and leaves altered chords alone") {
  const auto key = *theory::parse_key("C");
  const auto has = [&](const char* symbol, Colour colour, int tone) {
    const auto tones = comping_tones(*theory::parse_chord(symbol), key, colour);
    return std::find(tones.begin(), tones.end(), tone) != tones.end();
  };
  CHECK_FALSE(has("Dm7", Colour::plain, 4));
  CHECK(has("Dm7", Colour::ninths, 4));
  CHECK_FALSE(has("Em7", Colour::ninths, 6)); // F# is not in C
  CHECK_FALSE(has("C", Colour::ninths, 2));
  CHECK(has("C", Colour::rich, 2));
  CHECK_FALSE(has("G7", Colour::ninths, 4));
  CHECK(has("G7", Colour::rich, 4));
  CHECK_FALSE(has("G7b9", Colour::rich, 9));
  CHECK_FALSE(has("Bm7b5", Colour::rich, 1));
  CHECK_FALSE(has("Csus4", Colour::rich, 2));
  CHECK_FALSE(has("C5", Colour::rich, 2));
}
