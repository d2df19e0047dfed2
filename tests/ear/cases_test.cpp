#include "ear/stage.hpp"
#include "practice/choice.hpp"

#include <doctest/doctest.h>

using namespace landfall;
using namespace landfall::test;

namespace {

struct Case {
  const char* name;
  Stage stage;
  const char* played;
  const char* place;
  const char* verdict; ///< "" where nothing is asked.
};

const Stage plain{"A | D"};
const Stage slow{.chart = "A | D", .tempo = tempo_from_bpm(60.0)};
const Stage thirds{.chart = "A | D", .target = "thirds"};
const Stage in_six_eight{"key: A\nmeter: 6/8\ntempo: 60\n\n| A | D |\n"};

Stage with_key(const char* key, int bar) {
  Stage stage{"A | D"};
  stage.commands.emplace_back(bar, practice::SetKey{theory::parse_key(key).value()});
  return stage;
}

Stage with_tempo(double bpm, int bar) {
  Stage stage{"A | D"};
  stage.commands.emplace_back(bar, practice::SetTempo{tempo_from_bpm(bpm)});
  return stage;
}

const std::vector<Case>& cases() {
  static const std::vector<Case> all{
      // When. A beat is 500 ms, an eighth 250, a sixteenth 125.
      {"on the beat", plain, "2:1 F#4 1", "2:1", "landed 3 leap"},
      {"a little early", plain, "2:1-100 F#4 0.1", "2:1", "landed 3 leap"},
      {"an eighth and 40 ms early", plain, "2:1-289 F#4 0.1", "2:1", "landed 3 leap"},
      {"before the window", plain, "2:1-300 F#4 0.1", "2:1", "rest"},
      {"a little late", plain, "2:1+100 F#4 1", "2:1", "landed 3 leap"},
      {"an eighth late", plain, "2:1+249 F#4 1", "2:1", "landed 3 leap"},
      {"after the window", plain, "2:1+260 F#4 1", "2:1", "rest"},
      {"slow: never more than 250 ms late", slow, "2:1+260 F#4 1", "2:1", "rest"},
      {"slow: an eighth early is half a second", slow, "2:1-530 F#4 0.1", "2:1", "landed 3 leap"},
      {"fast: 80 ms late are always granted",
       {.chart = "A | D", .tempo = tempo_from_bpm(400.0)},
       "2:1+78 F#4 1",
       "2:1",
       "landed 3 leap"},
      {"fast: but no more than an eighth or 80 ms",
       {.chart = "A | D", .tempo = tempo_from_bpm(400.0)},
       "2:1+85 F#4 1",
       "2:1",
       "rest"},
      {"entry on beat two", plain, "2:2 F#4 1", "2:1", "rest"},
      {"entry on beat two with a wrong note", plain, "2:2 E4 1", "2:1", "rest"},
      {"nothing near", plain, "1:1 A4 1", "2:1", "rest"},
      {"nothing at all", plain, "", "2:1", "rest"},
      // Which note arrives.
      {"nearest of two", plain, "2:1-50 F#4 0.1; 2:1+60 E4 0.2", "2:1", "landed 3 leap"},
      {"as near: the later", plain, "2:1-60 E4 0.05; 2:1+60 F#4 0.2", "2:1", "landed 3 step"},
      {"a chord tone elsewhere in the window does not help", plain,
       "2:1-250 F#4 0.2; 2:1 E4 1; 2:3 E4 1", "2:1", "off 9"},
      {"tied over the change", plain, "1:4 F#4 2", "2:1", "landed 3 common tone"},
      {"tied over the change, no chord tone", plain, "1:4 E4 2", "2:1", "off 9"},
      {"held for bars", plain, "1:1 A4 6", "2:1", "landed 5 common tone"},
      {"ringing under a newer note that is held", plain, "1:3 F#4 4; 1:4 E4 2", "2:1", "off 9"},
      {"ringing under a newer note that is over", plain, "1:3 F#4 4; 1:4 E4 0.3", "2:1", "rest"},
      {"held by the pedal only", plain, "pedal 1:1 down; 1:4 F#4 0.3; pedal 3:1 up", "2:1", "rest"},
      {"the pedal does not hide what is struck", plain,
       "pedal 1:1 down; 1:4 F#4 0.3; 2:1 E4 0.5; pedal 3:1 up", "2:1", "off 9"},
      {"released a moment before", plain, "1:4 F#4 0.98", "2:1", "rest"},
      {"an eighth early and held", plain, "1:4.5 F#4 2", "2:1", "landed 3 common tone"},
      {"an eighth early and short", plain, "1:4.5 F#4 0.3", "2:1", "landed 3 leap"},
      {"held note gives way to one on the beat", plain, "1:4 F#4 1.1; 2:1+20 E4 1", "2:1", "off 9"},
      // How it was approached.
      {"by step", plain, "1:4.5 E4 0.5; 2:1 F#4 1", "2:1", "landed 3 step"},
      {"by half step", plain, "1:4.5 G4 0.5; 2:1 F#4 1", "2:1", "landed 3 half step"},
      {"by a chain of half steps", plain, "1:4 E4 0.5; 1:4.5 F4 0.5; 2:1 F#4 1", "2:1",
       "landed 3 half step"},
      {"by leap", plain, "1:4 C#4 1; 2:1 A4 1", "2:1", "landed 5 leap"},
      {"enclosed from above", plain, "1:4 G4 0.5; 1:4.5 F4 0.5; 2:1 F#4 1", "2:1",
       "landed 3 enclosure"},
      {"enclosed from below", plain, "1:4 E4 0.5; 1:4.5 G4 0.5; 2:1 F#4 1", "2:1",
       "landed 3 enclosure"},
      {"struck again", plain, "1:4 A4 1; 2:1 A4 1", "2:1", "landed 5 common tone"},
      {"repeated on and on", plain, "1:4.5 A4 0.2; 1:4.75 A4 0.2; 2:1 A4 0.2; 2:1.25 A4 0.2", "2:1",
       "landed 5 common tone"},
      {"a wrong note repeated", plain, "2:1 E4 0.2; 2:1.25 E4 0.2; 2:1.5 E4 0.2", "2:1", "off 9"},
      // Leaning, late, off.
      {"leans from a half step below", plain, "2:1 F4 0.4; 2:1+200 F#4 1", "2:1",
       "landed 3 half step"},
      {"leans from a half step above", plain, "2:1 G4 0.4; 2:1+200 F#4 1", "2:1",
       "landed 3 half step"},
      {"leans from a whole step above", plain, "2:1 E4 0.4; 2:1+200 D4 1", "2:1", "landed 1 step"},
      {"a whole step below does not lean", plain, "2:1 E4 0.4; 2:1+200 F#4 1", "2:1",
       "late 3 step"},
      {"a held note leans", plain, "1:4 G4 1.2; 2:1+200 F#4 1", "2:1", "landed 3 half step"},
      {"leans after the window", plain, "2:1 G4 0.5; 2:1+270 F#4 1", "2:1", "late 3 half step"},
      {"late within a beat", plain, "2:1 E4 0.5; 2:1+490 A4 1", "2:1", "late 5 leap"},
      {"the second note after is late too", plain, "2:1 E4 0.3; 2:1.5 G4 0.3; 2:1.75 F#4 0.2",
       "2:1", "late 3 enclosure"},
      {"later than a beat", plain, "2:1 E4 1; 2:2+20 F#4 1", "2:1", "off 9"},
      {"a sixth", plain, "2:1 B4 1", "2:1", "off 6"},
      {"a thirteenth", Stage{"A | D7"}, "2:1 B4 1", "2:1", "off 13"},
      // Bends.
      {"bent up to it", plain, "2:1-50 E4 2; glide 2:1 2:1+150 0 200", "2:1", "landed 3 step"},
      {"bent up by a half step", plain, "2:1 F4 2; glide 2:1+60 2:1+150 0 100", "2:1",
       "landed 3 half step"},
      {"bent before, held over", plain, "1:4 E4 2; glide 1:4 1:4+150 0 200", "2:1",
       "landed 3 common tone"},
      {"a held note bent up at the change", plain, "1:4 E4 2; glide 2:1 2:1+150 0 200", "2:1",
       "landed 3 step"},
      {"pre-bent and released", plain, "bend 2:1-100 200; 2:1-50 D4 2; glide 2:1+20 2:1+140 200 0",
       "2:1", "landed 1 step"},
      {"pre-bent to it", plain, "bend 2:1-100 200; 2:1 E4 2", "2:1", "landed 3 leap"},
      {"a chord tone bent away long before", plain, "1:4 D4 2; glide 1:4 1:4+150 0 200", "2:1",
       "off 9"},
      {"bent through it", plain, "2:1 E4 2; glide 2:1 2:1+200 0 300", "2:1", "off 9"},
      {"the bend arrives after the window", plain, "2:1 E4 2; glide 2:1+200 2:1+400 0 200", "2:1",
       "late 3 step"},
      {"vibrato", plain, "2:1 F#4 2; shake 2:1 2:3 0 30", "2:1", "landed 3 leap"},
      {"wide vibrato", plain, "2:1 F#4 2; shake 2:1 2:3 0 50", "2:1", "landed 3 leap"},
      {"vibrato on a wrong note", plain, "2:1 E4 2; shake 2:1 2:3 0 50", "2:1", "off 9"},
      {"30 cents sharp", plain, "bend 2:1-10 30; 2:1 F#4 1", "2:1", "landed 3 leap"},
      {"a bend on another string", plain,
       "bend 2:1-10 100 s1; 2:1-5 E5 2 s1; bend 2:1+50 200 s1; 2:1 F#4 1 s2", "2:1",
       "landed 3 leap"},
      // Ornaments and guitars.
      {"ghost", plain, "2:1 E5 0.02 v10 s1; 2:1+70 F#4 1 v90 s2", "2:1", "landed 3 leap"},
      {"short but struck", plain, "2:1 E5 0.02 v90 s1", "2:1", "off 9"},
      {"soft but held", plain, "2:1 E5 1 v10 s1", "2:1", "off 9"},
      {"grace note", plain, "2:1-60 F4 0.1; 2:1 F#4 1", "2:1", "landed 3 half step"},
      {"crushed grace note", plain, "2:1-30 F4 0.05; 2:1 F#4 1", "2:1", "landed 3 leap"},
      {"grace note on the beat", plain, "2:1 F4 0.1; 2:1+60 F#4 1", "2:1", "landed 3 half step"},
      {"hammered on", plain, "2:1-150 E4 1 s2; 2:1 F#4 1 s2", "2:1", "landed 3 step"},
      {"slid to", plain, "2:1-60 E4 1 s2; 2:1-30 F4 1 s2; 2:1 F#4 1 s2", "2:1",
       "landed 3 half step"},
      {"a string sounds one note", plain, "1:4 F#4 4 s2; 1:4.5 E4 0.3 s2", "2:1", "off 9"},
      // Several notes.
      {"double stop: the better degree", plain, "2:1 E4+F#4 1", "2:1", "landed 3 leap"},
      {"double stop: the guide tone first", plain, "2:1 F#4+A4 1", "2:1", "landed 3 leap"},
      {"double stop: both wrong", plain, "2:1 E4+G4 1", "2:1", "off 4"},
      {"full chord: the top", plain, "2:1 D4+F#4+A4 1", "2:1", "landed 5 leap"},
      {"full chord with a wrong top", plain, "2:1 D4+F#4+E5 1", "2:1", "off 9"},
      {"strummed", plain, "2:1-20 D4 1; 2:1-5 F#4 1; 2:1+15 A4 1", "2:1", "landed 5 leap"},
      {"wrong octave", plain, "2:1 F#6 1", "2:1", "landed 3 leap"},
      // Chords.
      {"an extension of the chord", Stage{"A | D9"}, "2:1 E4 1", "2:1", "landed 9 leap"},
      {"a slash bass is no chord tone", Stage{"A | D/E"}, "2:1 E4 1", "2:1", "off 9"},
      {"diminished fifth", Stage{"A | Bm7b5"}, "2:1 F4 1", "2:1", "landed b5 leap"},
      {"outside the set",
       {.chart = "A | D", .set = "minor pentatonic"},
       "2:1 F#4 1",
       "2:1",
       "landed 3 leap"},
      // Forms.
      {"swung eighths", plain, "1:4 E4 0.6; 1:4.667 F4 0.3; 2:1 F#4 1", "2:1",
       "landed 3 half step"},
      {"two chords in a bar", Stage{"A D | E A"}, "1:3 F#4 1", "1:3", "landed 3 leap"},
      {"two chords in a bar: the next", Stage{"A D | E A"}, "1:3 F#4 1; 2:1 G#4 1", "2:1",
       "landed 3 step"},
      {"windows meet halfway",
       {.chart = "A D E A | A D E A", .tempo = tempo_from_bpm(240.0)},
       "1:2+115 F#4 0.1",
       "1:2",
       "landed 3 leap"},
      {"beyond halfway it is the next one's",
       {.chart = "A D E A | A D E A", .tempo = tempo_from_bpm(240.0)},
       "1:2+130 F#4 0.1",
       "1:2",
       "rest"},
      {"beyond halfway, the next one",
       {.chart = "A D E A | A D E A", .tempo = tempo_from_bpm(240.0)},
       "1:2+130 F#4 0.1",
       "1:3",
       "off 9"},
      {"an unchanged chord asks every fourth bar", Stage{"A | A | A | A | A | A | A | A"},
       "5:1 C#4 1", "5:1", "landed 3 leap"},
      {"and not between", Stage{"A | A | A | A | A | A | A | A"}, "3:1 C#4 1", "3:1", ""},
      {"the top of the form asks", Stage{"A | A"}, "3:1 C#4 1", "3:1", "landed 3 leap"},
      {"N.C. asks nothing", Stage{"A | N.C. | D"}, "2:1 C#4 1", "2:1", ""},
      {"after N.C.", Stage{"A | N.C. | D"}, "3:1 F#4 1", "3:1", "landed 3 leap"},
      {"loop seam",
       {.chart = "A | D | E | A", .loop = practice::BarRange{2, 3}},
       "3:1 F#4 1",
       "3:1",
       "landed 3 leap"},
      {"inside a loop",
       {.chart = "A | D | E | A", .loop = practice::BarRange{2, 3}},
       "4:1 G#4 1",
       "4:1",
       "landed 3 leap"},
      {"key change", with_key("C", 3), "3:1 E4 1", "3:1", "landed 3 leap"},
      {"key change: the old key's third is off", with_key("C", 3), "3:1 C#4 1", "3:1", "off b9"},
      {"pick-up", plain, "1:1-400 F#4 0.3; 1:1-200 G#4 0.3; 1:1 A4 1", "1:1", "landed 1 half step"},
      {"tempo change", with_tempo(60.0, 2), "2:1-530 F#4 0.1", "2:1", "landed 3 leap"},
      {"6/8", in_six_eight, "2:1 F#4 0.3", "2:1", "landed 3 leap"},
      {"6/8: within a dotted quarter it is late", in_six_eight, "2:1 E4 0.3; 2:1.9 F#4 0.3", "2:1",
       "late 3 step"},
      {"a space asks nothing", Stage{"A | D space"}, "2:1 F#4 1", "2:1", ""},
      // Targets.
      {"target hit", thirds, "2:1 F#4 1", "2:1", "landed 3 leap"},
      {"another chord tone", thirds, "2:1 D4 1", "2:1", "off 1"},
      {"another chord tone, then the target", thirds, "2:1 D4 0.5; 2:1+300 F#4 1", "2:1",
       "late 3 leap"},
      {"leans from a chord tone to the target",
       {.chart = "A | Dmaj7", .target = "sevenths"},
       "2:1 D4 0.4; 2:1+200 C#4 1",
       "2:1",
       "landed 7 half step"},
      {"a chord without the target asks nothing",
       {.chart = "A7 | D", .target = "sevenths"},
       "2:1 F#4 1",
       "2:1",
       ""},
  };
  return all;
}

ear::Judgement judged(const Stage& stage, const char* played, const ear::Settings& settings = {}) {
  const auto ground = ground_of(stage);
  return ear::judge(ground, heard(events_of(played, ground)), settings);
}

} // namespace

TEST_CASE("judging") {
  REQUIRE(cases().size() >= 60);
  for (const auto& each : cases()) {
    const auto ground = ground_of(each.stage);
    const auto judgement = ear::judge(ground, heard(events_of(each.played, ground)), {});
    const auto* change = change_at(judgement, ground, each.place);
    const std::string verdict = change == nullptr ? "" : words_of(*change);
    CHECK_MESSAGE(verdict == each.verdict, std::string(each.name) << ": " << verdict);
  }
}

TEST_CASE("set and position are told, and spoil nothing") {
  const auto in = judged(plain, "2:1 A4 1").changes.at(1);
  CHECK(in.in_set);
  CHECK(in.in_position);
  const auto far = judged(plain, "2:1 F#6 1").changes.at(1);
  CHECK(far.verdict == ear::Verdict::landed);
  CHECK_FALSE(far.in_position);
  const auto out = judged({.chart = "A | D", .set = "minor pentatonic"}, "2:1 F#4 1").changes.at(1);
  CHECK(out.verdict == ear::Verdict::landed);
  CHECK_FALSE(out.in_set);
}

TEST_CASE("with a string known its fret decides on the position") {
  // The hand is at 4, its reach from 3 to 8: F#4 is fret 7 of string 2 and fret 2 of string 1.
  CHECK(judged(plain, "2:1 F#4 1 s2").changes.at(1).in_position);
  CHECK_FALSE(judged(plain, "2:1 F#4 1 s1").changes.at(1).in_position);
  CHECK(judged(plain, "2:1 F#4 1 s2").notes.at(0).in_position == true);
  CHECK(judged(plain, "2:1 F#4 1 s1").notes.at(0).in_position == false);
  CHECK_FALSE(judged(plain, "2:1 F#4 1").notes.at(0).in_position.has_value());
}

TEST_CASE("of a chord tone that is not aimed at, that is told") {
  const auto other = judged(thirds, "2:1 D4 1").changes.at(1);
  CHECK_FALSE(other.aimed_at);
  CHECK(other.held == theory::Degree{1, 0});
  CHECK(judged(thirds, "2:1 E4 1").changes.at(1).aimed_at);
}

TEST_CASE("the narrowest and the widest window") {
  ear::Settings settings;
  settings.window = sixteenth;
  CHECK(judged(plain, "2:1+130 F#4 1", settings).changes.at(1).verdict == ear::Verdict::rest);
  CHECK(judged(plain, "2:1-160 F#4 0.1", settings).changes.at(1).verdict == ear::Verdict::landed);
  settings.window = quarter;
  CHECK(judged(plain, "2:1-530 F#4 0.1", settings).changes.at(1).verdict == ear::Verdict::landed);
  CHECK(judged(plain, "2:1+240 F#4 1", settings).changes.at(1).verdict == ear::Verdict::landed);
  CHECK(judged(plain, "2:1+260 F#4 1", settings).changes.at(1).verdict == ear::Verdict::rest);
}

TEST_CASE("below the split nothing is judged") {
  ear::Settings settings;
  settings.split = 60;
  const auto below = judged(plain, "2:1 F#3 1", settings);
  CHECK(below.changes.at(1).verdict == ear::Verdict::rest);
  CHECK(below.notes.empty());
  CHECK(judged(plain, "2:1 D3+A3+F#4 1", settings).changes.at(1).degree == theory::Degree{3, 0});
}

TEST_CASE("what was landed on is told with its moment") {
  const auto ground = ground_of(plain);
  const auto held = judged(plain, "1:4 F#4 2").changes.at(1);
  CHECK(held.midi == 66);
  CHECK(held.arrived == tick_of("1:4", ground));
  const auto lean = judged(plain, "2:1 G4 0.4; 2:1+200 F#4 1").changes.at(1);
  CHECK(lean.midi == 66);
  CHECK(lean.arrived == tick_of("2:1+200", ground));
  const auto bent = judged(plain, "2:1 E4 2; bend 2:1+100 200").changes.at(1);
  CHECK(bent.midi == 66);
  CHECK(bent.arrived == tick_of("2:1+100", ground));
  CHECK_FALSE(judged(plain, "").changes.at(1).midi.has_value());
}
