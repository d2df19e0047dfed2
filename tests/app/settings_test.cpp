#include "app/run_command.hpp"
#include "app/settings.hpp"

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
  settings.own_sound = true;
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
  std::ofstream(file) << R"({"song": 5, "key": "D", "position": "x", "own_sound": "yes",
    "look": {"text_scale": 99, "labels": 77, "theme": 4, "whole_board": true}})";
  std::string problem;
  const auto settings = load_settings(file, problem);
  CHECK(settings.song == Settings{}.song);
  CHECK(settings.key == "D");
  CHECK_FALSE(settings.position);
  CHECK(settings.look.text_scale == 2.0);
  CHECK(settings.look.whole_board);
}
