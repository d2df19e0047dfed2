#include "app/frame_builder.hpp"
#include "app/setting.hpp"
#include "song/parser.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace landfall;
using namespace landfall::app;

namespace {

struct PlainFeels final : band::FeelBook {
  const band::Feel* find(std::string_view) const override { return &band::plain_feel(); }
};

struct Scene {
  neck::Instrument instrument = neck::standard_guitar();
  practice::Session session;
  FrameInput input;

  static practice::Session::Setup setup(const char* text) {
    practice::Session::Setup setup;
    setup.song = std::make_shared<const song::Song>(song::parse_progression(text).value());
    setup.feels = std::make_shared<PlainFeels>();
    setup.choice.key = setup.song->key;
    setup.choice.tempo = setup.song->tempo;
    setup.choice.set = theory::parse_note_set("major pentatonic").value();
    return setup;
  }

  explicit Scene(const char* text) : session(setup(text)) {
    session.start();
    input.instrument = &instrument;
  }

  render::Frame at(double beats) {
    input.snapshot.timeline = std::make_shared<const practice::Timeline>(session.timeline());
    input.snapshot.song = std::make_shared<const song::Song>(session.song());
    input.snapshot.choice = session.latest_choice();
    input.snapshot.transport.rolling = true;
    input.snapshot.transport.anchor_tick = {std::llround(beats * 960)};
    return build_frame(input);
  }
};

render::Neck neck_of(const render::Frame& frame) {
  return std::get<render::Neck>(frame.board);
}

std::vector<render::Place> places_of(const render::Frame& frame) {
  return neck_of(frame).places;
}

int count_role(const render::Frame& frame, render::Role role) {
  int count = 0;
  for (const auto& place : places_of(frame))
    count += place.mark.role == role;
  return count;
}

const char* four_bars = "key: A\n| A | D | E | A |";

} // namespace

TEST_CASE("the board lights exactly the landing notes of the present chord") {
  Scene scene(four_bars);
  for (const double beat : {0.0, 3.9, 4.0, 8.5, 13.0}) {
    const auto frame = scene.at(beat);
    const auto chords =
        present_chord(scene.session.timeline().performance, {std::llround(beat * 960)});
    const auto setting = setting_of(scene.instrument, scene.session.latest_choice());
    const auto notes = neck::landing(setting, chords.chord);
    CHECK(count_role(frame, render::Role::landing) == static_cast<int>(notes.size()));
    for (const auto& note : notes) {
      bool lit = false;
      for (const auto& place : places_of(frame))
        lit = lit || (place.string == note.string && place.fret == note.fret &&
                      place.mark.role == render::Role::landing);
      CHECK(lit);
    }
  }
}

TEST_CASE("the arcs of what comes grow over the bar before and are full at the change") {
  Scene scene(four_bars);
  const auto arc = [&](double beat) {
    double most = -1;
    for (const auto& place : places_of(scene.at(beat)))
      if (place.mark.coming)
        most = std::max(most, *place.mark.coming);
    return most;
  };
  CHECK(arc(0.0) == doctest::Approx(0.0));
  CHECK(arc(1.0) == doctest::Approx(0.25));
  CHECK(arc(3.0) == doctest::Approx(0.75));
  CHECK(arc(3.999) == doctest::Approx(1.0).epsilon(0.01));
  CHECK(arc(4.0) == doctest::Approx(0.0));
  // bars 4 and 1 are one long chord: its change comes two bars later
  CHECK(arc(12.0) == -1);
}

TEST_CASE("tones of both chords are marked as common") {
  Scene scene(four_bars);
  const auto frame = scene.at(2.0);
  bool common = false;
  for (const auto& place : places_of(frame))
    if (place.mark.common) {
      common = true;
      CHECK(place.mark.role == render::Role::landing);
      CHECK(place.mark.label == "1"); // A is the root of A and the fifth of D
    }
  CHECK(common);
}

TEST_CASE("bars slide by one beat a beat, without gaps, and show what comes after the turnaround") {
  Scene scene(four_bars);
  const auto first = scene.at(5.0).lane, later = scene.at(6.0).lane;
  for (std::size_t i = 1; i < first.bars.size(); ++i)
    CHECK(first.bars[i].beat == doctest::Approx(first.bars[i - 1].beat + first.bars[i - 1].length));
  double present = 99, present_later = 99;
  for (const auto& bar : first.bars)
    if (bar.number == "bar 2 of 4")
      present = bar.beat;
  for (const auto& bar : later.bars)
    if (bar.number == "bar 2 of 4")
      present_later = bar.beat;
  CHECK(present == doctest::Approx(-1.0));
  CHECK(present_later == doctest::Approx(-2.0));
  CHECK(first.bars.back().beat > 24.0);
  const auto end = scene.at(15.0).lane;
  bool top = false;
  for (const auto& bar : end.bars)
    top = top || (bar.form_begins && bar.beat == doctest::Approx(1.0));
  CHECK(top);
}

TEST_CASE("the count-in is counted, and the lane shows its bar") {
  Scene scene(four_bars);
  CHECK(scene.at(-4.0).count_in == 1);
  CHECK(scene.at(-1.5).count_in == 3);
  CHECK_FALSE(scene.at(0.5).count_in);
  CHECK(scene.at(-2.0).status.running == render::Running::count_in);
  CHECK(scene.at(-2.0).lane.bars.front().count_in);
}

TEST_CASE("what sounds lights at its place in the position") {
  Scene scene(four_bars);
  SoundingNote note;
  note.midi = 69;
  note.bend = 0.5;
  const std::vector<SoundingNote> sounding{note};
  scene.input.sounding = sounding;
  const auto frame = scene.at(1.0);
  REQUIRE(neck_of(frame).sounding.size() == 1);
  CHECK(neck_of(frame).sounding[0].string == 1);
  CHECK(neck_of(frame).sounding[0].fret == 5);
  CHECK(neck_of(frame).sounding[0].bend == 0.5);
}

TEST_CASE("a note outside the position and the set is still shown, near the hand") {
  Scene scene(four_bars);
  for (int midi = 40; midi <= 86; ++midi) {
    SoundingNote note;
    note.midi = midi;
    const std::vector<SoundingNote> sounding{note};
    scene.input.sounding = sounding;
    const auto frame = scene.at(1.0);
    REQUIRE(neck_of(frame).sounding.size() == 1);
    const auto place = neck_of(frame).sounding[0];
    const int open[] = {64, 59, 55, 50, 45, 40};
    CHECK(open[place.string - 1] + place.fret == midi);
  }
}

TEST_CASE("stopped, the top of the form is shown and nothing is coming") {
  Scene scene(four_bars);
  scene.at(5.0);
  scene.input.snapshot.transport = {};
  const auto frame = build_frame(scene.input);
  CHECK(frame.status.running == render::Running::stopped);
  CHECK(frame.lane.bars.front().beat == doctest::Approx(0.0));
  for (const auto& place : places_of(frame))
    CHECK_FALSE(place.mark.coming);
}

TEST_CASE("a chord of the song in another key keeps the hand") {
  Scene scene("key: A\n| A | D |\nkey: C\n| C | F |");
  const auto here = neck_of(scene.at(0.5)), there = neck_of(scene.at(8.5));
  CHECK(std::abs(here.hand_low - there.hand_low) <= 1);
  CHECK(count_role(scene.at(8.5), render::Role::landing) >= 5);
}

TEST_CASE("of the sevenths beside a chord's shape, the one that suits the chord comes first") {
  const std::vector<std::pair<const char*, const char*>> cases{
      {"A", "A7 as an E shape"},
      {"Am", "Am7 as an E shape"},
      {"Amaj7", "Amaj7 as an E shape"},
      {"Am7b5", "Am7b5 as an E shape"},
  };
  for (const auto& each : cases) {
    CAPTURE(std::string(each.first));
    Scene scene((std::string("| ") + each.first + " |").c_str());
    scene.input.look.grip_number = 1;
    CHECK(neck_of(scene.at(0)).caption == render::with_signs(each.second));
  }
}
