#include "midi/message.hpp"
#include "midi/wav.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <cstring>
#include <sstream>
#include <vector>

using namespace landfall;
using namespace landfall::midi;
using std::chrono::milliseconds;
using std::chrono::seconds;

namespace {

struct Sound {
  std::vector<float> left;
  float peak = 0;
  std::string error;
};

Sound render(const std::vector<ScheduledMessage>& messages, Nanoseconds length,
             SynthSettings settings = {}) {
  Sound sound;
  sound.error = render_offline(messages, length, settings, [&sound](auto left, auto right) {
    sound.left.insert(sound.left.end(), left.begin(), left.end());
    for (const auto side : {left, right})
      for (const float x : side)
        sound.peak = std::max(sound.peak, std::abs(x));
    return true;
  });
  return sound;
}

/// Where the sound first rises above any reverberation; -1 if never.
std::int64_t onset(const Sound& sound, std::size_t from = 0) {
  for (std::size_t i = from; i < sound.left.size(); ++i)
    if (std::abs(sound.left[i]) > 0.005F)
      return static_cast<std::int64_t>(i);
  return -1;
}

/// Drums, bass, six-note chords and a line on top, all as loud as MIDI can be.
std::vector<ScheduledMessage> dense_band(int bars) {
  std::vector<ScheduledMessage> all{
      {{}, program(0, 33)}, {{}, program(1, 4)}, {{}, program(2, 27)}};
  for (int eighth = 0; eighth < 8 * bars; ++eighth) {
    const Nanoseconds at = eighth * milliseconds(150);
    for (const int drum : {42, eighth % 4 == 2 ? 38 : 36, eighth % 8 == 0 ? 49 : 46})
      all.push_back({at, note_on(9, drum, 127)});
    for (const int note : {52, 55, 59, 64, 67, 71})
      all.push_back({at, note_on(1, note, 127)});
    all.push_back({at, note_on(0, 40, 127)});
    all.push_back({at, note_on(2, 76 + eighth % 8, 127)});
  }
  return all;
}

bool can_sound() {
  if (!has_synth())
    return false;
  const bool found = render({}, milliseconds(1)).error != "no sound font found";
  if (!found)
    MESSAGE("skipped: no sound font");
  return found;
}

std::uint32_t number(const std::string& bytes, std::size_t at, int count) {
  std::uint32_t value = 0;
  for (int i = count - 1; i >= 0; --i)
    value = (value << 8) | static_cast<std::uint8_t>(bytes[at + static_cast<std::size_t>(i)]);
  return value;
}

} // namespace

TEST_CASE("the sound has exactly the length asked for, and silence is silent") {
  if (!can_sound())
    return;
  const auto sound = render({}, milliseconds(333));
  CHECK(sound.error.empty());
  CHECK(sound.left.size() == 15'984);
  CHECK(sound.peak < 1e-4F);
}

TEST_CASE("each note begins within 32 frames of its place, wherever it lies") {
  if (!can_sound())
    return;
  // a woodblock: it speaks at once
  const ScheduledMessage dry{{}, control(9, controller::reverb, 0)};
  const auto delay = onset(render({dry, {{}, note_on(9, 76, 127)}}, milliseconds(100)));
  REQUIRE(delay >= 0);
  std::vector<ScheduledMessage> messages{dry};
  const auto time_of = [](int i) { return milliseconds(400) * i + i * Nanoseconds{1'234'567}; };
  for (int i = 0; i < 40; ++i) {
    messages.push_back({time_of(i), note_on(9, 76, 127)});
    messages.push_back({time_of(i) + milliseconds(100), control(9, controller::all_sound_off, 0)});
  }
  const auto sound = render(messages, seconds(17));
  for (int i = 0; i < 40; ++i) {
    const auto place =
        static_cast<std::int64_t>(static_cast<double>(time_of(i).count()) * 48e3 / 1e9);
    const auto quiet = static_cast<std::size_t>(std::max<std::int64_t>(place - 2'000, 0));
    CHECK(std::abs(onset(sound, quiet) - delay - place) <= 32);
  }
}

TEST_CASE("a dense band at full velocity is loud and does not clip") {
  if (!can_sound())
    return;
  const auto sound = render(dense_band(4), seconds(5));
  CHECK(sound.peak > 0.2F);
  CHECK(sound.peak < 0.9F);
}

TEST_CASE("even a gain much too high stays below full scale") {
  if (!can_sound())
    return;
  SynthSettings loud;
  loud.gain = 5;
  const auto sound = render(dense_band(1), seconds(2), loud);
  CHECK(sound.peak > 0.9F);
  CHECK(sound.peak < 1.0F);
}

TEST_CASE("note-off, sustain and all sound off are heard") {
  if (!can_sound())
    return;
  const auto energy = [](const std::vector<ScheduledMessage>& messages) {
    const auto sound = render(messages, seconds(3));
    double sum = 0;
    for (std::size_t i = 2 * 48'000; i < sound.left.size(); ++i)
      sum += std::abs(sound.left[i]);
    return sum / 48'000;
  };
  const ScheduledMessage organ{{}, program(0, 16)};
  const ScheduledMessage on{{}, note_on(0, 60, 100)};
  const ScheduledMessage off{milliseconds(500), note_off(0, 60)};
  const ScheduledMessage pedal{{}, control(0, controller::sustain, 127)};
  const ScheduledMessage silence{milliseconds(600), control(0, controller::all_sound_off, 0)};
  CHECK(energy({organ, on}) > 1e-3);
  CHECK(energy({organ, on, off}) < 1e-4);
  CHECK(energy({organ, pedal, on, off}) > 1e-3);
  CHECK(energy({organ, pedal, on, off, silence}) < 1e-4);
}

TEST_CASE("equal music gives equal sound") {
  if (!can_sound())
    return;
  CHECK(render(dense_band(1), milliseconds(500)).left ==
        render(dense_band(1), milliseconds(500)).left);
}

TEST_CASE("a WAV file: header, length and samples") {
  if (!can_sound())
    return;
  std::ostringstream out;
  SynthSettings settings;
  settings.sample_rate = 44'100;
  REQUIRE(render_wav(dense_band(1), milliseconds(1'000), settings, out).empty());
  const auto file = out.str();
  REQUIRE(file.size() == 44 + 44'100 * 4);
  CHECK(file.substr(0, 4) == "RIFF");
  CHECK(number(file, 4, 4) == file.size() - 8);
  CHECK(file.substr(8, 8) == "WAVEfmt ");
  CHECK(number(file, 22, 2) == 2);
  CHECK(number(file, 24, 4) == 44'100);
  CHECK(number(file, 28, 4) == 44'100 * 4);
  CHECK(number(file, 34, 2) == 16);
  CHECK(number(file, 40, 4) == 44'100 * 4);
  const auto sound = render(dense_band(1), milliseconds(1'000), settings);
  for (const std::size_t frame : {1'000U, 20'000U, 44'099U}) {
    const auto sample = static_cast<std::int16_t>(number(file, 44 + frame * 4, 2));
    CHECK(sample == doctest::Approx(sound.left[frame] * 32767).epsilon(0.001).scale(32767));
  }
}

TEST_CASE("what can't be rendered says why in one line") {
  std::ostringstream out;
  CHECK(render_wav({}, std::chrono::hours(7), {}, out) == "longer than six hours");
  if (!can_sound())
    return;
  SynthSettings wrong;
  wrong.sound_font = LANDFALL_SOURCE_DIR "/CMakeLists.txt";
  CHECK(render({}, seconds(1), wrong).error == "not a sound font: " + wrong.sound_font);
  out.setstate(std::ios::badbit);
  CHECK(render_wav({}, seconds(1), {}, out) == "the file can't be written");
}

TEST_CASE("no audio device: silent, and it says so") {
  SynthSettings nowhere;
  nowhere.driver = "no such driver";
  const auto start = start_synth(nowhere);
  REQUIRE(start.output);
  CHECK_FALSE(start.sounding);
  CHECK(start.status.find("silent") != std::string::npos);
  CHECK(start.idle_for(TimePoint{}) == Nanoseconds{0});
  CHECK_FALSE(start.xruns);
  const auto message = note_on(0, 60, 90);
  start.output->send({message.bytes.data(), message.size}, TimePoint{});
  CHECK(start.output->failures() == 0);
}

TEST_CASE("a latency has a name, and the low one asks for less at a time") {
  for (const auto latency : {Latency::usual, Latency::low})
    CHECK(latency_of(latency_name(latency)) == latency);
  CHECK_FALSE(latency_of("lowest"));
  const auto usual = settings_for(Latency::usual), low = settings_for(Latency::low);
  CHECK(low.period_frames * low.periods < usual.period_frames * usual.periods);
  CHECK(low.margin < usual.margin);
}
