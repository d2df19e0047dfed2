#include "midi/input_mode.hpp"

#include <doctest/doctest.h>

using namespace landfall::midi;

namespace {

/// A note on each of `count` channels from `first`.
ModeDetector after_row(int first, int count) {
  ModeDetector detector;
  for (int i = 0; i < count; ++i) {
    detector.hear(note_on(first + i, 60 - i * 5, 80));
    detector.hear(note_off(first + i, 60 - i * 5));
  }
  return detector;
}

void configure(ModeDetector& detector, int channel, int members) {
  for (const auto& message :
       {control(channel, 100, 6), control(channel, 101, 0), control(channel, 6, members)})
    detector.hear(message);
}

} // namespace

TEST_CASE("six channels in a row are strings, wherever they begin; five are not") {
  for (int first = 0; first <= 10; ++first) {
    const auto proposal = after_row(first, 6).proposal({});
    REQUIRE(proposal);
    CHECK(proposal->mode == InputMode::per_string);
    CHECK(proposal->base_channel == first);
    CHECK(proposal->strings == 6);
    CHECK_FALSE(after_row(first, 5).proposal({}));
    CHECK_FALSE(after_row(first, 6).proposal(*proposal)); // it is so already
  }
}

TEST_CASE("six channels with a gap propose nothing") {
  auto detector = after_row(0, 3);
  for (int channel = 4; channel < 9; ++channel)
    detector.hear(note_on(channel, 60, 80));
  CHECK_FALSE(detector.proposal({}));
}

TEST_CASE("a longer row is MPE, and strings of another base are noticed") {
  CHECK(after_row(1, 9).proposal({})->mode == InputMode::mpe_lower);
  CHECK(after_row(4, 12).proposal({})->mode == InputMode::mpe_upper);
  CHECK(after_row(0, 7).proposal({})->strings == 7);
  auto other = *after_row(0, 6).proposal({});
  CHECK(after_row(10, 6).proposal(other)->base_channel == 10);
}

TEST_CASE("a configuration message says MPE, and an MPE input is no guitar") {
  ModeDetector detector;
  configure(detector, 15, 0);
  CHECK_FALSE(detector.proposal({}));
  configure(detector, 15, 7);
  const auto proposal = detector.proposal({});
  REQUIRE(proposal);
  CHECK(proposal->mode == InputMode::mpe_upper);
  CHECK_FALSE(detector.proposal(*proposal));
  CHECK_FALSE(after_row(8, 6).proposal(*proposal));
  detector.forget();
  CHECK_FALSE(detector.proposal({}));
}

TEST_CASE("every mode is found by its name and by its option") {
  for (const auto mode :
       {InputMode::one_channel, InputMode::per_string, InputMode::mpe_lower, InputMode::mpe_upper})
    CHECK(mode_of(mode_name(mode)) == mode);
  CHECK(mode_of("strings") == InputMode::per_string);
  CHECK(mode_of("mpe-upper") == InputMode::mpe_upper);
  CHECK_FALSE(mode_of("mono"));
  CHECK(usual_bend_semitones(InputMode::per_string) == 12);
}
