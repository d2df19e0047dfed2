#include "app/run_command.hpp"
#include "app/setup.hpp"

#include <doctest/doctest.h>

#include <fstream>

using namespace landfall::app;
using landfall::test::ScratchFolder;

TEST_CASE("settings come back as they were left") {
  const ScratchFolder scratch;
  const auto file = scratch.path / "deep" / "settings.json";
  Settings settings;
  settings.started_before = true;
  settings.song = "round-the-roundabout";
  settings.key = "Ebm";
  settings.position = 7;
  settings.instrument = {"guitar", "D2 A2 D3 G3 B3 E4", 3};
  settings.own_sound = true;
  settings.latency = landfall::midi::Latency::low;
  settings.look.theme = landfall::render::Theme::paper;
  settings.look.text_scale = 1.5;
  settings.look.labels = landfall::neck::LabelKind::name;
  CHECK(save_settings(file, settings).empty());
  std::string problem;
  CHECK(load_settings(file, problem) == settings);
  CHECK(problem.empty());
}

TEST_CASE("no file is no problem; a broken one is kept aside and told") {
  const ScratchFolder scratch;
  const auto file = scratch.path / "settings.json";
  std::string problem;
  CHECK(load_settings(file, problem) == Settings{});
  CHECK(problem.empty());
  std::ofstream(file) << "{ \"song\": ";
  CHECK(load_settings(file, problem) == Settings{});
  CHECK(!problem.empty());
  CHECK(std::filesystem::exists(scratch.path / "settings.json.unreadable"));
}

TEST_CASE("a field of the wrong kind, or out of range, does not spoil the others") {
  const ScratchFolder scratch;
  const auto file = scratch.path / "settings.json";
  std::ofstream(file)
      << R"({"song": 5, "key": "D", "position": "x", "own_sound": "yes", "latency": "none",
    "look": {"text_scale": 99, "labels": 77, "theme": 4, "whole_board": true}})";
  std::string problem;
  const auto settings = load_settings(file, problem);
  CHECK(settings.song == Settings{}.song);
  CHECK(settings.key == "D");
  CHECK_FALSE(settings.position);
  CHECK(settings.latency == landfall::midi::Latency::usual);
  CHECK(settings.look.text_scale == 2.0);
  CHECK(settings.look.whole_board);
}

TEST_CASE("what was left is taken up again, unless the command line says otherwise") {
  Settings left;
  left.key = "Ebm";
  left.shape = "C";
  left.set = "dorian";
  left.over = "chord";
  left.target = "thirds";
  left.beats_per_minute = 92.5;
  left.instrument.name = "ukulele";
  MusicOptions music;
  music.target = "roots";
  CHECK(fill_in(music, left, true).empty());
  CHECK(music.key == "Ebm");
  CHECK(music.shape == "C");
  CHECK(music.set == "dorian");
  CHECK(music.over == "chord");
  CHECK(music.target == "roots");
  CHECK(tempo_of(music) == 92.5);
  CHECK(music.instrument == "ukulele");
  MusicOptions other;
  other.set = "blues";
  CHECK(fill_in(other, left, false).empty());
  CHECK(other.key.empty());
  CHECK(other.tempo.empty());
  CHECK(other.over.empty());
}

TEST_CASE("a tuning and a capo that were left belong to the instrument that was left") {
  Settings left;
  left.instrument = {"guitar", "D2 A2 D3 G3 B3 E4", 2};
  MusicOptions music;
  CHECK(fill_in(music, left, true).empty());
  CHECK(music.tuning == "D2 A2 D3 G3 B3 E4");
  CHECK(music.capo == 2);
  MusicOptions other;
  other.instrument = "bass";
  CHECK(fill_in(other, left, true).empty());
  CHECK(other.tuning.empty());
  CHECK_FALSE(other.capo.has_value());
  left.instrument.tuning = "as it was";
  MusicOptions third;
  CHECK(fill_in(third, left, true).find("as it was") != std::string::npos);
  CHECK(third.instrument == "guitar");
  CHECK(third.tuning.empty());
}

TEST_CASE("what was left and cannot be had any more is as usual, and named") {
  Settings left;
  left.key = "H";
  left.shape = "Q";
  left.set = "a set that was taken away";
  left.over = "chord";
  left.target = "hats";
  left.beats_per_minute = 1e6;
  left.instrument.name = "kazoo";
  MusicOptions music;
  const auto gone = fill_in(music, left, true);
  for (const char* name : {"'H'", "'Q'", "'a set that was taken away'", "'hats'", "'kazoo'"})
    CHECK(gone.find(name) != std::string::npos);
  CHECK(music.key.empty());
  CHECK(music.shape.empty());
  CHECK(music.set.empty());
  CHECK(music.over.empty());
  CHECK(music.target.empty());
  CHECK(music.tempo.empty());
  CHECK(music.instrument.empty());
}

TEST_CASE("a song is remembered so that it is found from anywhere; standard input is not") {
  CHECK(lasting_name("-").empty());
  CHECK(lasting_name("slipway-at-six") == "slipway-at-six");
  CHECK(lasting_name("A | D") == "A | D");
  const ScratchFolder scratch;
  const auto file = scratch.path / "mine.song";
  std::ofstream(file) << "title: Mine\n| A |\n";
  const auto relative = std::filesystem::relative(file);
  REQUIRE(relative.is_relative());
  CHECK(std::filesystem::path(lasting_name(relative.string())).is_absolute());
  CHECK(std::filesystem::equivalent(lasting_name(relative.string()), file));
}
