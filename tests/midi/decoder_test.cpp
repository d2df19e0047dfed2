#include "midi/decoder.hpp"
#include "midi/fake_output.hpp"
#include "midi/input_reader.hpp"
#include "midi/message.hpp"

#include <doctest/doctest.h>

#include <random>
#include <string>
#include <vector>

using namespace landfall::midi;

namespace {

std::vector<ShortMessage> decode(const std::vector<int>& bytes) {
  Decoder decoder;
  std::vector<ShortMessage> messages;
  for (const int byte : bytes)
    if (const auto message = decoder.feed(static_cast<std::uint8_t>(byte)))
      messages.push_back(*message);
  return messages;
}

struct Case {
  const char* name;
  std::vector<int> bytes;
  std::vector<ShortMessage> messages;
};

const ShortMessage clock_tick{{0xF8, 0, 0}, 1};

const std::vector<Case> cases{
    {"a note", {0x93, 60, 100}, {note_on(3, 60, 100)}},
    {"running status", {0x90, 60, 100, 64, 90}, {note_on(0, 60, 100), note_on(0, 64, 90)}},
    {"running status of two-byte messages", {0xC1, 5, 6}, {program(1, 5), program(1, 6)}},
    {"real time inside a message",
     {0x90, 0xF8, 60, 0xF8, 1},
     {clock_tick, clock_tick, note_on(0, 60, 1)}},
    {"undefined real time inside a message", {0x90, 60, 0xF9, 0xFD, 1}, {note_on(0, 60, 1)}},
    {"exclusive is skipped", {0xF0, 1, 2, 3, 0xF7, 0x90, 1, 2}, {note_on(0, 1, 2)}},
    {"real time inside exclusive", {0xF0, 1, 0xF8, 3, 0xF7, 1, 2}, {clock_tick}},
    {"exclusive cut short by a status", {0xF0, 1, 2, 0xB0, 64, 127}, {control(0, 64, 127)}},
    {"exclusive ends the running status", {0x90, 1, 2, 0xF0, 0xF7, 3, 4}, {note_on(0, 1, 2)}},
    {"system common ends the running status",
     {0x90, 1, 2, 0xF1, 9, 3, 4},
     {note_on(0, 1, 2), {{0xF1, 9, 0}, 2}}},
    {"tune request is one byte", {0xF6, 1, 0x80, 2, 3}, {{{0xF6, 0, 0}, 1}, {{0x80, 2, 3}, 3}}},
    {"a status in mid-message drops it", {0x90, 60, 0xB0, 7, 8}, {control(0, 7, 8)}},
    {"stray data", {1, 2, 3}, {}},
    {"a stray end of exclusive", {0xF7, 1, 2}, {}},
    {"undefined status", {0xF4, 1, 2, 0xF5, 3}, {}},
    {"bend is least significant first", {0xE0, 0, 64, 1, 64}, {bend(0, 0), bend(0, 1)}},
};

landfall::TimePoint at{landfall::Nanoseconds{1'000'000'007}};

template <typename T> T only(const ShortMessage& message, InputReader reader = InputReader{}) {
  const auto events = reader.read({at, message});
  REQUIRE(events.size() == 1);
  REQUIRE(std::holds_alternative<T>(events[0]));
  return std::get<T>(events[0]);
}

InputSetup with_range(int semitones) {
  InputSetup setup;
  setup.bend_semitones = semitones;
  return setup;
}

} // namespace

TEST_CASE("byte streams and the messages in them") {
  for (const auto& item : cases) {
    CAPTURE(std::string(item.name));
    CHECK(decode(item.bytes) == item.messages);
  }
}

TEST_CASE("any bytes give whole messages only") {
  std::mt19937 random(7);
  Decoder decoder;
  InputReader reader;
  int whole = 0;
  for (int i = 0; i < 200'000; ++i) {
    const auto message = decoder.feed(static_cast<std::uint8_t>(random()));
    if (!message)
      continue;
    ++whole;
    REQUIRE(is_valid(*message));
    reader.read({at, *message});
  }
  CHECK(whole > 1000);
}

TEST_CASE("every message made is read back") {
  for (int channel = 0; channel < 16; ++channel)
    for (const auto& message : {note_on(channel, 61, 3), note_off(channel, 0), bend(channel, -8192),
                                control(channel, 127, 127), program(channel, 126)}) {
      CHECK(is_valid(message));
      CHECK(channel_of(message) == channel);
      std::vector<int> bytes(message.bytes.begin(), message.bytes.begin() + message.size);
      CHECK(decode(bytes) == std::vector{message});
    }
  CHECK(note_on(16, 200, -4) == ShortMessage{{0x90, 127, 0}, 3});
  CHECK(bend(0, 9999) == ShortMessage{{0xE0, 127, 127}, 3});
}

TEST_CASE("messages that are not whole are not valid") {
  CHECK_FALSE(is_valid({}));
  CHECK_FALSE(is_valid({{0x90, 60, 0}, 2}));
  CHECK_FALSE(is_valid({{0x90, 60, 200}, 3}));
  CHECK_FALSE(is_valid({{60, 60, 60}, 3}));
  CHECK_FALSE(is_valid({{0xF0, 0, 0}, 1}));
  CHECK_FALSE(is_valid({{0x90, 60, 0}, 200}));
  CHECK(InputReader{}.read({at, {{0x90, 60, 200}, 3}}).empty());
}

TEST_CASE("note-on with velocity 0 is a note-off") {
  const auto event = only<NoteEvent>(note_on(2, 50, 0));
  CHECK_FALSE(event.on);
  CHECK(event.time == at);
  CHECK(event.channel == 2);
  CHECK(event.note == 50);
  CHECK(only<NoteEvent>(note_on(2, 50, 1)).on);
  CHECK_FALSE(only<NoteEvent>(note_off(2, 50)).on);
}

TEST_CASE("bends follow the channel's range, set by registered parameter 0") {
  CHECK(only<BendEvent>(bend(0, 4096)).cents == doctest::Approx(100));
  CHECK(only<BendEvent>(bend(0, -8192)).cents == doctest::Approx(-200));
  CHECK(only<BendEvent>(bend(0, 8191), InputReader{with_range(48)}).cents ==
        doctest::Approx(4799.4).epsilon(1e-4));

  InputReader reader;
  for (const auto& message :
       {control(5, 101, 0), control(5, 100, 0), control(5, 6, 12), control(5, 38, 50)})
    reader.read({at, message});
  CHECK(reader.bend_range_cents(5) == doctest::Approx(1250));
  CHECK(reader.bend_range_cents(4) == doctest::Approx(200));

  SUBCASE("another parameter's data leaves it alone") {
    for (const auto& message : {control(5, 101, 0), control(5, 100, 1), control(5, 6, 99)})
      reader.read({at, message});
  }
  SUBCASE("the null parameter closes it") {
    for (const auto& message : {control(5, 101, 127), control(5, 100, 127), control(5, 6, 99)})
      reader.read({at, message});
  }
  SUBCASE("a non-registered parameter closes it") {
    for (const auto& message : {control(5, 99, 0), control(5, 98, 0), control(5, 6, 99)})
      reader.read({at, message});
  }
  CHECK(reader.bend_range_cents(5) == doctest::Approx(1250));
}

TEST_CASE("the other kinds of events") {
  CHECK(only<ProgramEvent>(program(1, 9)).program == 9);
  CHECK(only<ControlEvent>(control(1, 7, 127)).value == 127);
  CHECK(only<PressureEvent>({{0xD3, 70, 0}, 2}).value == 70);
  CHECK(only<PressureEvent>({{0xA3, 60, 70}, 3}).note == 60);
  CHECK(only<SystemEvent>({{0xF2, 1, 2}, 3}).position == 257);
  CHECK(only<SystemEvent>(clock_tick).status == 0xF8);
  CHECK(InputReader{}.read({at, {{0xFE, 0, 0}, 1}}).empty());
}
