// What each mode makes of the same messages. The streams are of our own making, after how
// pitch-to-MIDI guitars and MPE keyboards behave.

#include "midi/input_reader.hpp"

#include <doctest/doctest.h>

#include <chrono>
#include <string>
#include <vector>

using namespace landfall;
using namespace landfall::midi;

namespace {

InputSetup strings_from(int base) {
  InputSetup setup;
  setup.mode = InputMode::per_string;
  setup.base_channel = base;
  return setup;
}

InputSetup in_mode(InputMode mode) {
  InputSetup setup;
  setup.mode = mode;
  return setup;
}

std::string words(const InputEvent& event) {
  const auto on = [](const std::string& what, int channel) {
    return what + " @" + std::to_string(channel + 1);
  };
  if (const auto* note = std::get_if<NoteEvent>(&event))
    return on((note->on ? "on " : "off ") + std::to_string(note->note), note->channel) +
           (note->string ? " string " + std::to_string(*note->string) : "");
  if (const auto* bend = std::get_if<BendEvent>(&event))
    return on("bend " + std::to_string(static_cast<int>(bend->cents)), bend->channel);
  if (const auto* pedal = std::get_if<PedalEvent>(&event))
    return on(pedal->down ? "pedal" : "pedal up", pedal->channel);
  if (const auto* control = std::get_if<ControlEvent>(&event))
    return on("control " + std::to_string(control->controller), control->channel);
  return "other";
}

using Words = std::vector<std::string>;

/// What the reader says to a stream, registered parameters left out.
Words heard(InputReader& reader, const std::vector<ShortMessage>& stream) {
  Words all;
  for (const auto& message : stream)
    for (const auto& event : reader.read({{}, message}))
      if (const auto* control = std::get_if<ControlEvent>(&event);
          control == nullptr ||
          (control->controller != 6 && control->controller != 38 && control->controller < 98))
        all.push_back(words(event));
  return all;
}

Words heard(const InputSetup& setup, const std::vector<ShortMessage>& stream) {
  InputReader reader(setup);
  return heard(reader, stream);
}

std::vector<ShortMessage> parameter(int channel, int number, int value) {
  return {control(channel, 101, 0), control(channel, 100, number), control(channel, 6, value)};
}

constexpr int half = 4096; ///< Half of a full bend up.

} // namespace

TEST_CASE("one channel a string: the channel tells the string, from any base") {
  for (int base = 0; base < 16; ++base)
    for (int string = 1; string <= 6; ++string) {
      const int channel = (base + string - 1) % 16;
      CHECK(string_of(strings_from(base), channel) == string);
    }
  CHECK_FALSE(string_of(strings_from(0), 6));
  CHECK_FALSE(string_of(strings_from(10), 9));
  CHECK_FALSE(string_of(InputSetup{}, 3));
  CHECK(heard(strings_from(10), {note_on(10, 64, 90), note_on(15, 40, 90)}) ==
        Words{"on 64 @11 string 1", "on 40 @16 string 6"});
}

TEST_CASE("a hammer-on ends the note before it, whatever the order of the messages") {
  const auto setup = strings_from(0);
  const Words legato{"on 60 @2 string 2", "off 60 @2 string 2", "on 62 @2 string 2"};
  CHECK(heard(setup, {note_on(1, 60, 90), note_off(1, 60), note_on(1, 62, 50)}) == legato);
  auto late = legato;
  late.push_back("off 60 @2 string 2"); // its own end comes late, and ends nothing else
  CHECK(heard(setup, {note_on(1, 60, 90), note_on(1, 62, 50), note_off(1, 60)}) == late);
  InputReader reader(setup);
  heard(reader, {note_on(1, 60, 90), note_on(1, 62, 50), note_off(1, 60)});
  CHECK(heard(reader, {note_on(1, 64, 50)}) == Words{"off 62 @2 string 2", "on 64 @2 string 2"});
}

TEST_CASE("a slide by new notes ends each; other strings ring on") {
  CHECK(heard(strings_from(0),
              {note_on(0, 64, 80), note_on(1, 57, 90), note_on(1, 58, 40), note_on(1, 59, 40)}) ==
        Words{"on 64 @1 string 1", "on 57 @2 string 2", "off 57 @2 string 2", "on 58 @2 string 2",
              "off 58 @2 string 2", "on 59 @2 string 2"});
}

TEST_CASE("a slide by bends stays one note, at twelve half steps to a full bend") {
  CHECK(heard(strings_from(0), {note_on(2, 55, 90), bend(2, half / 6), bend(2, half / 3),
                                bend(2, 0), note_off(2, 55)}) ==
        Words{"on 55 @3 string 3", "bend 99 @3", "bend 199 @3", "bend 0 @3", "off 55 @3 string 3"});
}

TEST_CASE("a note struck again without an end begins anew, in every mode") {
  for (const auto mode : {InputMode::one_channel, InputMode::mpe_lower, InputMode::mpe_upper})
    CHECK(heard(in_mode(mode), {note_on(3, 60, 90), note_on(3, 60, 80)}) ==
          Words{"on 60 @4", "off 60 @4", "on 60 @4"});
  CHECK(heard(strings_from(0), {note_on(3, 60, 90), note_on(3, 60, 80)}).size() == 3);
}

TEST_CASE("on one channel, notes sound together and end each by itself") {
  CHECK(heard(InputSetup{}, {note_on(0, 60, 90), note_on(0, 64, 90), note_off(0, 60),
                             note_on(1, 64, 90), note_on(0, 64, 0)}) ==
        Words{"on 60 @1", "on 64 @1", "off 60 @1", "on 64 @2", "off 64 @1"});
}

TEST_CASE("the pedal is told when it moves, not at each value on its way") {
  CHECK(heard(InputSetup{}, {control(2, 64, 10), control(2, 64, 64), control(2, 64, 127),
                             control(2, 64, 63), control(2, 64, 0)}) ==
        Words{"pedal @3", "pedal up @3"});
}

TEST_CASE("MPE: a member's bend and its manager's add up") {
  InputReader reader(in_mode(InputMode::mpe_lower));
  CHECK(heard(reader, {note_on(1, 60, 90), bend(1, half / 24)}) ==
        Words{"on 60 @2", "bend 99 @2"});             // 48 half steps for a member
  const auto common = heard(reader, {bend(0, half)}); // 2 for the manager
  REQUIRE(common.size() == 16);
  CHECK(common[0] == "bend 100 @1");
  CHECK(common[1] == "bend 199 @2");
  CHECK(common[15] == "bend 100 @16");
}

TEST_CASE("MPE: the manager's pedal is that of its zone") {
  const auto lower = heard(in_mode(InputMode::mpe_lower), {control(0, 64, 127)});
  CHECK(lower.size() == 16);
  const auto upper = heard(in_mode(InputMode::mpe_upper), {control(15, 64, 127)});
  REQUIRE(upper.size() == 16);
  CHECK(upper[1] == "pedal @15");
  CHECK(heard(in_mode(InputMode::mpe_upper), {control(0, 64, 127)}) == Words{"pedal @1"});
}

TEST_CASE("MPE: a configuration message sizes the zone, and 0 turns it off") {
  InputReader reader(in_mode(InputMode::mpe_lower));
  heard(reader, parameter(0, 6, 4));
  CHECK(heard(reader, {bend(0, half)}).size() == 5);
  CHECK(reader.bend_range_cents(4) == 4800);
  SUBCASE("the other zone takes what it needs") {
    heard(reader, parameter(15, 6, 12));
    CHECK(heard(reader, {bend(0, half)}).size() == 3);
    CHECK(heard(reader, {bend(15, half)}).size() == 13);
  }
  SUBCASE("off") {
    heard(reader, parameter(0, 6, 0));
    CHECK(heard(reader, {bend(0, half)}).size() == 1);
  }
  SUBCASE("what sounds ends") {
    heard(reader, {note_on(3, 60, 90)});
    CHECK(heard(reader, parameter(0, 6, 5)) == Words{"off 60 @4"});
  }
  SUBCASE("only on the first and the last channel, up to 15 members") {
    heard(reader, parameter(5, 6, 2));
    heard(reader, parameter(0, 6, 16));
    CHECK(heard(reader, {bend(0, half)}).size() == 5);
  }
}

TEST_CASE("MPE: a member's range is that of its zone; the manager has its own") {
  InputReader reader(in_mode(InputMode::mpe_lower));
  heard(reader, parameter(3, 0, 24));
  CHECK(reader.bend_range_cents(9) == 2400);
  CHECK(reader.bend_range_cents(0) == 200);
  heard(reader, parameter(0, 0, 7));
  CHECK(reader.bend_range_cents(0) == 700);
  CHECK(reader.bend_range_cents(9) == 2400);
}

TEST_CASE("one channel a string: each has its own range; what the player says holds") {
  InputReader reader(strings_from(0));
  CHECK(reader.bend_range_cents(0) == 1200);
  heard(reader, parameter(2, 0, 24));
  CHECK(reader.bend_range_cents(2) == 2400);
  CHECK(reader.bend_range_cents(1) == 1200);
  auto setup = strings_from(0);
  setup.bend_semitones = 7;
  InputReader said(setup);
  heard(said, parameter(2, 0, 24));
  CHECK(said.bend_range_cents(2) == 700);
}

TEST_CASE("all notes off and reset end what sounds, bends and pedals") {
  InputReader reader;
  heard(reader, {note_on(0, 60, 90), note_on(0, 64, 90), note_on(1, 67, 90), bend(0, half),
                 control(0, 64, 127)});
  CHECK(heard(reader, {control(0, 123, 0)}).size() == 2);
  CHECK(heard(reader, {control(0, 121, 0)}) == Words{"pedal up @1", "bend 0 @1"});
  CHECK(heard(reader, {control(0, 123, 0)}).empty());
}

TEST_CASE("a flood of notes that never end stays bounded, and each end is told") {
  InputReader reader;
  int sounding = 0;
  for (int i = 0; i < 2048; ++i)
    for (const auto& event : reader.read({{}, note_on(i % 16, i / 16, 90)}))
      sounding += std::get<NoteEvent>(event).on ? 1 : -1;
  CHECK(sounding == static_cast<int>(InputReader::most_sounding));
  for (int channel = 0; channel < 16; ++channel)
    for (const auto& event : reader.read({{}, control(channel, 123, 0)}))
      sounding -= std::holds_alternative<NoteEvent>(event) ? 1 : 0;
  CHECK(sounding == 0);
}

TEST_CASE("latency is the port's, and the string's on top of it") {
  auto setup = strings_from(4);
  CHECK(latency_of(setup, 4) == Nanoseconds{});
  setup.string_latency[5] = std::chrono::milliseconds(9);
  CHECK(latency_of(setup, 9) == Nanoseconds{});
  setup.latency = std::chrono::milliseconds(12);
  CHECK(latency_of(setup, 9) == std::chrono::milliseconds(21));
  CHECK(latency_of(setup, 4) == std::chrono::milliseconds(12));
  CHECK(latency_of(setup, 0) == std::chrono::milliseconds(12));
}
