#include "app/chalk.hpp"
#include "app/held.hpp"
#include "app/play_through.hpp"
#include "app/setting.hpp"
#include "midi/message.hpp"
#include "song/parser.hpp"
#include "song/unroll.hpp"

#include <doctest/doctest.h>

using namespace landfall;
using namespace landfall::app;

namespace {

/// What is played of a progression, chorus after chorus, from bar `first` to bar `last`.
song::Performance performed(const char* text, int first = 1, int last = 0, int choruses = 2) {
  const auto song = song::parse_progression(text).value();
  const auto form = std::make_shared<const song::Form>(song::unroll(song));
  const auto bar = bar_length(song.meter);
  song::Performance performance;
  for (int chorus = 0; chorus < choruses; ++chorus)
    performance.append(chorus, form, bar * (first - 1), last == 0 ? form->length : bar * last);
  return performance;
}

const char* four_bars = "key: A\n| A | A | D E | A |";
constexpr Ticks bar = quarter * 4;

neck::NeckView view_of(const neck::Instrument& instrument, const char* set, const char* chord) {
  practice::Choice choice;
  choice.key = theory::parse_key("A").value();
  choice.place.shape = 'E';
  choice.set = theory::parse_note_set(set).value();
  choice.over = theory::Over::chord;
  return neck::view(setting_of(instrument, choice), theory::parse_chord(chord).value());
}

std::vector<int> pitches(const std::vector<neck::NeckNote>& notes) {
  std::vector<int> all;
  for (const auto& note : notes)
    all.push_back(note.midi.number);
  return all;
}

} // namespace

TEST_CASE("chords are stepped from change to change, round the form, whatever bars repeat them") {
  const auto performance = performed(four_bars);
  const auto& stretch = performance.stretches().front();
  const auto steps = chord_steps(stretch);
  CHECK(steps == std::vector<Ticks>{{}, bar * 2, bar * 2 + quarter * 2, bar * 3});
  CHECK(stepped(steps, Ticks{}, 1) == bar * 2);
  CHECK(stepped(steps, bar + quarter, 1) == bar * 2);
  CHECK(stepped(steps, bar * 3 + quarter, 1) == Ticks{});
  CHECK(stepped(steps, Ticks{}, -1) == bar * 3);
  CHECK(stepped(steps, bar * 3, -1) == bar * 2 + quarter * 2);
}

TEST_CASE("beats are those of the meter, of the loop only") {
  const auto performance = performed("meter: 6/8\nkey: A\n| A | D | E | A |", 2, 3);
  const auto beats = beat_steps(performance.stretches().front());
  const Ticks dotted = quarter + eighth;
  CHECK(beats == std::vector<Ticks>{{}, dotted, dotted * 2, dotted * 3});
}

TEST_CASE("a band is held on its beat, in whichever chorus it was, and goes on from that bar") {
  const auto performance = performed(four_bars);
  const auto& first = performance.stretches().front();
  const auto later = performance.at(bar * 4 + bar * 2 + quarter + Ticks{77});
  REQUIRE(later);
  const auto held = held_at(first, *later);
  CHECK(held == bar * 2 + quarter);
  CHECK(bar_line_before(first, held) == bar * 2);
  const auto loop = performed(four_bars, 2, 2);
  CHECK(held_at(loop.stretches().front(), *later) == Ticks{});
}

TEST_CASE("a set is played from its lowest root up, down, and back to that root, each note once") {
  const auto guitar = neck::standard_guitar();
  for (const char* chord : {"A", "D", "E", "F#m"})
    for (const char* set : {"major pentatonic", "arpeggio", "dorian"}) {
      CAPTURE(chord);
      CAPTURE(set);
      const auto view = view_of(guitar, set, chord);
      const auto run = up_and_down(view.notes, true);
      REQUIRE(run.size() > 4);
      CHECK(run.front().degree == theory::Degree{1, 0});
      CHECK(run.back() == run.front());
      const auto sounds = pitches(run);
      const auto top = std::max_element(sounds.begin(), sounds.end());
      const auto foot = std::min_element(top, sounds.end());
      CHECK(std::is_sorted(sounds.begin(), top));
      CHECK(std::is_sorted(top, foot, std::greater<>{}));
      CHECK(std::is_sorted(foot, sounds.end()));
      for (std::size_t i = 1; i < sounds.size(); ++i)
        CHECK(sounds[i] != sounds[i - 1]);
      for (const auto& note : view.notes)
        if (note.in_set)
          CHECK(std::count(sounds.begin(), sounds.end(), note.midi.number) >= 1);
    }
  const auto landing = up_and_down(view_of(guitar, "major pentatonic", "A").notes, false);
  for (const auto& note : landing)
    CHECK(note.role == neck::Role::landing);
  CHECK(up_and_down({}, true).empty());
}

TEST_CASE(
    "each note of a run sounds an eighth, the last one rings, and the lit one is the sounding") {
  const auto guitar = neck::standard_guitar();
  PlayThrough through{up_and_down(view_of(guitar, "arpeggio", "A").notes, true), {1000}};
  const auto messages = messages_of(through);
  REQUIRE(messages.size() == through.notes.size());
  for (std::size_t i = 0; i < messages.size(); ++i) {
    const auto at = Ticks{1000} + eighth * static_cast<std::int64_t>(i);
    CHECK(messages[i].at == at);
    CHECK(messages[i].at + messages[i].length <= through.to());
    const auto* lit = through.at(at + Ticks{1});
    REQUIRE(lit != nullptr);
    CHECK(lit->midi.number == midi::note_of(messages[i].message));
  }
  CHECK(through.at({999}) == nullptr);
  CHECK(through.at(through.to()) == nullptr);
  CHECK(through.at(through.to() - Ticks{1}) == &through.notes.back());
}

TEST_CASE("chalk points, hides and shows, and is gone when it is done once more") {
  Chalk chalk;
  point_at(chalk, {3, 6});
  hide_or_show(chalk, {1, 5}, true);
  hide_or_show(chalk, {2, 8}, false);
  circle(chalk, {3, 5}, {1, 7});
  CHECK(chalk.pointed.contains({3, 6}));
  CHECK(chalk.hidden.contains({1, 5}));
  CHECK(chalk.shown.contains({2, 8}));
  CHECK(chalk.circles.size() == 1);
  point_at(chalk, {3, 6});
  hide_or_show(chalk, {1, 5}, false);
  hide_or_show(chalk, {2, 8}, true);
  chalk.circles.clear();
  CHECK(chalk.empty());
}

TEST_CASE("what is drawn by chalk is on the board, labelled as the board is") {
  const auto guitar = neck::standard_guitar();
  BoardMoment moment;
  moment.setting.instrument = &guitar;
  moment.setting.key = theory::parse_key("A").value();
  moment.chords.chord = theory::parse_chord("A7").value();
  render::Neck neck;
  render::Mark lit;
  lit.role = render::Role::landing;
  neck.places = {{1, 5, lit}, {3, 6, lit}};
  std::variant<render::Neck, render::Keyboard> board = neck;
  CHECK(is_lit(board, {1, 5}));
  CHECK_FALSE(is_lit(board, {2, 8}));
  Chalk chalk;
  point_at(chalk, {3, 6});
  hide_or_show(chalk, {1, 5}, true);
  hide_or_show(chalk, {2, 8}, false);
  circle(chalk, {3, 5}, {1, 7});
  draw(chalk, moment, {}, board);
  const auto& drawn = std::get<render::Neck>(board);
  REQUIRE(drawn.places.size() == 3);
  CHECK(drawn.places[0].mark.hidden);
  CHECK(drawn.places[1].mark.pointed_at);
  CHECK(drawn.places[2].mark.label == "♭7");
  CHECK(drawn.places[2].mark.role == render::Role::chord);
  REQUIRE(drawn.circles.size() == 1);
  CHECK(drawn.circles[0] == render::Circle{3, 5, 1, 7});
}
