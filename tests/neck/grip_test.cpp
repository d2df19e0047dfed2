#include "neck/support.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <sstream>

using namespace landfall::neck;
namespace theory = landfall::theory;

namespace {

/// `x32010` or `8 10 10 9 8 8`.
std::vector<std::optional<int>> frets_of(const std::string& text) {
  std::vector<std::optional<int>> frets;
  const auto read = [&](const std::string& word) {
    frets.push_back(word == "x" ? std::nullopt : std::optional(std::stoi(word)));
  };
  if (text.find(' ') == std::string::npos) {
    for (const char c : text)
      read(std::string(1, c));
    return frets;
  }
  std::istringstream words(text);
  for (std::string word; words >> word;)
    read(word);
  return frets;
}

bool lists(const std::vector<Grip>& found, const std::string& frets) {
  return std::any_of(found.begin(), found.end(),
                     [&](const Grip& grip) { return grip.frets == frets_of(frets); });
}

void check_ten(bool movable, const char* chord, const std::vector<const char*>& known) {
  const Fretboard guitar(standard_guitar());
  const auto found = grips(guitar, chord_of(chord), {movable, std::nullopt, 10});
  CAPTURE(std::string(chord));
  CHECK(found.size() <= 10);
  for (const auto* frets : known) {
    CAPTURE(std::string(frets));
    CHECK(lists(found, frets));
  }
}

/// What no hand can do is told here by other means than the solver's own.
void check_playable(const Fretboard& board, const Grip& grip, bool movable) {
  int lowest = 99, highest = 0;
  std::map<int, std::set<int>> frets_of_finger;
  for (std::size_t s = 0; s < grip.frets.size(); ++s) {
    if (!grip.frets[s] || *grip.frets[s] == 0) {
      REQUIRE(grip.finger[s] == 0);
      REQUIRE((!movable || !grip.frets[s]));
      continue;
    }
    lowest = std::min(lowest, *grip.frets[s]);
    highest = std::max(highest, *grip.frets[s]);
    REQUIRE(grip.finger[s] >= 1);
    REQUIRE(grip.finger[s] <= 4);
    frets_of_finger[grip.finger[s]].insert(*grip.frets[s]);
  }
  REQUIRE((highest == 0 || highest - lowest <= 3));
  REQUIRE(static_cast<int>(frets_of_finger.size()) == grip.fingers);
  int previous = 0;
  for (const auto& [finger, frets] : frets_of_finger) {
    REQUIRE(frets.size() == 1);
    REQUIRE(*frets.begin() >= previous);
    previous = *frets.begin();
  }
  for (const auto& barre : grip.barres)
    for (int s = barre.first; s <= barre.last; ++s) {
      const auto& fret = grip.frets[static_cast<std::size_t>(s)];
      REQUIRE(fret.has_value());
      REQUIRE(*fret >= barre.fret);
    }
  for (std::size_t s = 0; s < grip.frets.size(); ++s) // One finger on two strings is a barre.
    for (std::size_t t = s + 1; t < grip.frets.size(); ++t)
      if (grip.finger[s] > 0 && grip.finger[s] == grip.finger[t])
        REQUIRE(std::any_of(grip.barres.begin(), grip.barres.end(), [&](const Barre& b) {
          return b.finger == grip.finger[s] && b.first <= static_cast<int>(s) &&
                 b.last >= static_cast<int>(t);
        }));
  static_cast<void>(board);
}

} // namespace

TEST_CASE("the first ten open grips contain those that any guitarist knows") {
  check_ten(false, "C", {"x32010", "x35553", "8 10 10 9 8 8"});
  check_ten(false, "A", {"x02220", "577655"});
  check_ten(false, "G", {"320003", "320033", "355433"});
  check_ten(false, "E", {"022100"});
  check_ten(false, "D", {"xx0232", "x57775"});
  check_ten(false, "F", {"133211", "xx3211"});
  check_ten(false, "B", {"x24442", "799877"});
  check_ten(false, "Am", {"x02210", "577555"});
  check_ten(false, "Em", {"022000"});
  check_ten(false, "Dm", {"xx0231", "x57765"});
  check_ten(false, "Bm", {"x24432", "799777"});
  check_ten(false, "C7", {"x32310", "x35353", "8 10 8 9 8 8"});
  check_ten(false, "G7", {"320001"});
  check_ten(false, "A7", {"x02020", "x02223", "575655"});
  check_ten(false, "D7", {"xx0212", "x57575"});
  check_ten(false, "E7", {"020100", "022130"});
  check_ten(false, "B7", {"x21202", "x24242"});
  check_ten(false, "Cmaj7", {"x32000"});
  check_ten(false, "Fmaj7", {"xx3210"});
  check_ten(false, "Am7", {"x02010", "575555"});
  check_ten(false, "Em7", {"020000", "022030"});
  check_ten(false, "Dm7", {"xx0211", "x57565"});
  check_ten(false, "Cadd9", {"x32030", "x32033"});
  check_ten(false, "Csus4", {"x33011"});
  check_ten(false, "Asus4", {"x02230"});
  check_ten(false, "C/E", {"032010"});
  check_ten(false, "D/F#", {"200232"});
}

TEST_CASE("the first ten movable grips contain shells, drop-2 and barre grips") {
  check_ten(true, "C7", {"8x89xx", "x323xx", "x3535x", "x x 10 12 11 12", "x35353", "8x898x"});
  check_ten(true, "Cmaj7", {"8x99xx", "x324xx", "x3545x", "x x 10 12 12 12", "8x998x", "x35453"});
  check_ten(true, "Cm7", {"8x88xx", "x313xx", "x3534x", "x35343", "8x888x", "8 10 8 8 8 8"});
  check_ten(true, "Cm7b5", {"x3434x", "8x887x", "x x 10 11 11 11"});
  check_ten(true, "Cdim7", {"x3424x", "8x787x", "x x 10 11 10 11"});
  check_ten(true, "C6", {"x35555", "8x798x"});
  check_ten(true, "Cm6", {"8x788x"});
  check_ten(true, "CmMaj7", {"x35443", "8 10 9 8 8 8"});
  check_ten(true, "C9", {"x3233x", "x32333"});
  check_ten(true, "C7#9", {"x3234x"});
  check_ten(true, "C7alt", {"8 x 8 9 9 9"}); // One altered ninth is enough.
  check_ten(true, "C7b9", {"x3232x"});
  check_ten(true, "C13", {"8 x 8 9 10 x"});
  check_ten(true, "C6/9", {"x3223x", "x32233"});
  check_ten(true, "C9sus4", {"x33333"});
  check_ten(true, "C5", {"x355xx", "8 10 10 x x x"});
  check_ten(true, "C+", {"x3211x"});
}

TEST_CASE("nothing unplayable is listed, and every grip is the chord") {
  constexpr std::array suffixes{"",     "m",       "7",     "maj7",  "m7",  "m7b5", "dim7",
                                "6",    "m6",      "sus4",  "7sus4", "9",   "13",   "7#9",
                                "+",    "5",       "mMaj7", "6/9",   "dim", "m11",  "7b9",
                                "add9", "maj7#11", "13b9",  "maj13"};
  int turn = 0;
  for (const auto& instrument : many_instruments()) {
    const Fretboard board(instrument);
    for (const char* suffix : suffixes) {
      const bool movable = ++turn % 2 == 0;
      const auto root = ascii(theory::plain_note(turn, turn % 3 == 0));
      const auto chord = chord_of(root + suffix);
      CAPTURE(instrument.name);
      CAPTURE(root);
      CAPTURE(std::string(suffix));
      for (const auto& grip : grips(board, chord, {movable, std::nullopt, 10})) {
        check_playable(board, grip, movable);
        int lowest = 128;
        std::set<int> sounds;
        for (int s = 0; s < board.count; ++s)
          if (const auto fret = grip.frets[static_cast<std::size_t>(s)]) {
            const int pitch = board.pitch(s, *fret).value();
            sounds.insert(pitch % 12);
            lowest = std::min(lowest, pitch);
            REQUIRE(degree_in(chord, pitch % 12));
          }
        for (const auto degree : guide_tones(chord))
          REQUIRE(sounds.contains((pitch_class(chord.root) + pitch_class(degree)) % 12));
        if (board.count > 4 && !board.reentrant)
          REQUIRE(lowest % 12 == pitch_class(chord.root));
      }
    }
  }
}

TEST_CASE("a slash chord has its bass lowest, a chord tone or not") {
  const Fretboard guitar(standard_guitar());
  for (const char* symbol : {"C/E", "D/F#", "C/Bb", "Am/G", "F/A", "G/B", "Dm7/G", "A/C#"})
    for (const auto& grip : grips(guitar, chord_of(symbol), {})) {
      int lowest = 128;
      for (int s = 0; s < 6; ++s)
        if (const auto fret = grip.frets[static_cast<std::size_t>(s)])
          lowest = std::min(lowest, *guitar.pitch(s, *fret));
      CAPTURE(std::string(symbol));
      CHECK(lowest % 12 == pitch_class(*chord_of(symbol).bass));
    }
}

TEST_CASE("a view's grips lie within hand and reach, best first") {
  for (int low = 0; low <= 12; ++low) {
    const Asked asked{.key = "A", .place = {.position = low}};
    for (const char* chord : {"A", "D7", "F#m7", "Bm7b5"}) {
      const auto view = asked.view(chord);
      double cost = -100;
      for (const auto& grip : view.grips) {
        CHECK(grip.cost >= cost);
        cost = grip.cost;
        for (const auto& fret : grip.frets)
          if (fret) {
            CHECK(*fret >= std::max(0, low - 1));
            CHECK(*fret <= low + 4);
          }
      }
    }
  }
  const auto names = Asked{.key = "A"}.view("A").grips;
  CHECK(std::any_of(names.begin(), names.end(),
                    [](const Grip& grip) { return grip.name == "A as an E shape"; }));
}

TEST_CASE("known chords of other instruments come first") {
  const auto first = [](const Instrument& instrument, const char* chord, const char* frets) {
    const Fretboard board(instrument);
    CAPTURE(std::string(chord));
    CHECK(lists(grips(board, chord_of(chord), {false, std::nullopt, 4}), frets));
  };
  const auto ukulele = tuned("G4 C4 E4 A4");
  first(ukulele, "C", "0003");
  first(ukulele, "G", "0232");
  first(ukulele, "F", "2010");
  first(ukulele, "Am", "2000");
  first(ukulele, "G7", "0212");
  auto mandolin = tuned("G3 D4 A4 E5");
  mandolin.hand = 6;
  first(mandolin, "G", "0023");
  first(mandolin, "D", "2002");
  first(mandolin, "C", "0230");
  first(tuned("D2 G2 D3 G3 B3 D4"), "G", "x00000");
  first(tuned("D2 A2 D3 G3 B3 E4"), "D5", "000xxx");
}

TEST_CASE("the little finger holds two neighbouring strings, as in the usual altered dominant") {
  const Fretboard guitar(standard_guitar());
  const auto found = grips(guitar, chord_of("E7#9#5"), {true, 6, 20});
  CHECK(lists(found, "x76788"));
}
