#include "app/history_file.hpp"
#include "app/history_store.hpp"
#include "app/run_json.hpp"
#include "practice/history_sample.hpp"

#include <doctest/doctest.h>

#include <cstdlib>
#include <fstream>
#include <set>

using namespace landfall;
using namespace landfall::test;

namespace {

/// A data folder of its own, with a history in it.
struct Played {
  ScratchFolder folder;

  explicit Played(const std::string& profile = "", bool any = true) {
    ::setenv("XDG_DATA_HOME", folder.path.c_str(), 1);
    ::setenv("XDG_CONFIG_HOME", folder.path.c_str(), 1);
    if (!any || !app::keeps_history())
      return;
    auto store = app::HistoryStore::open(*app::history_file(profile));
    REQUIRE(store);
    for (int i = 0; i < 4; ++i) {
      add(*store, chorus(cell("A"), noon(1 + i), 20, 22, 1), 20, "1");
      add(*store, chorus(cell("A", "C", "minor, own"), noon(2 + i), 4, 16, 3), 4, "3");
    }
  }
  ~Played() {
    ::unsetenv("XDG_DATA_HOME");
    ::unsetenv("XDG_CONFIG_HOME");
  }
  static void add(app::HistoryStore& store, practice::ChorusRecord record, int landed,
                  const char* degree) {
    const auto which = *theory::parse_degree(degree);
    for (int i = 0; i < landed; ++i)
      record.changes.push_back({1, 1.0, "A", ear::Verdict::landed, which, false});
    REQUIRE(store.add(record) == "");
  }
};

} // namespace

TEST_CASE("an empty history says so kindly, makes no file, and proposes where to begin") {
  const Played played("", false);
  const auto ran = run({"history"});
  CHECK(ran.exit == 0);
  CHECK(ran.out.find("Nothing practised yet") == 0);
  CHECK(ran.out.find("a place to begin") != std::string::npos);
  CHECK_FALSE(std::filesystem::exists(*app::history_file("")));
  const auto json = json_of(run({"history", "--json"}));
  CHECK(json["choruses"] == 0);
  CHECK(json["cells"].empty());
  CHECK(json["next"].size() == 4);
}

TEST_CASE("the text makes plain what is landed on: roots 80 of 100, thirds 16") {
  const Played played;
  if (!app::keeps_history())
    return;
  const auto ran = run({"history"});
  CHECK(ran.exit == 0);
  for (const char* part : {"of 96\n", "roots         80  ====", "thirds        16  ====",
                           "80 of 88", "16 of 64", "Weakest of late\n  A, C shape, minor, own"})
    CHECK_MESSAGE(ran.out.find(part) != std::string::npos, part, "\n", ran.out);
}

TEST_CASE("JSON has the fields of the contract, and nothing else") {
  const Played played;
  if (!app::keeps_history())
    return;
  const auto json = json_of(run({"history", "--json"}));
  const auto names = [](const nlohmann::json& object) {
    std::set<std::string> all;
    for (const auto& entry : object.items())
      all.insert(entry.key());
    return all;
  };
  CHECK(names(json) == std::set<std::string>{"minutes", "choruses", "cells", "by_degree", "next"});
  CHECK(json["minutes"] == 4.0);
  CHECK(json["choruses"] == 8);
  REQUIRE(json["cells"].size() == 2);
  CHECK(names(json["cells"][0]) ==
        std::set<std::string>{"key", "shape", "set", "changes", "landed", "last"});
  CHECK(json["cells"][0]["shape"] == "C");
  CHECK(json["cells"][1]["landed"] == 80);
  CHECK(json["cells"][1]["changes"] == 88);
  CHECK(json["cells"][1]["last"] == "2026-03-04T12:00:00Z");
  CHECK(json["by_degree"]["1"]["landed"] == 80);
  CHECK(json["by_degree"]["3"]["landed"] == 16);
  REQUIRE(json["next"].size() == 4);
  for (const auto& next : json["next"]) {
    CHECK(names(next) == std::set<std::string>{"key", "shape", "set", "song", "tempo", "why"});
    CHECK(next["tempo"] > 20);
    CHECK(run({"changes", next["song"], "--key", next["key"]}).exit == 0);
  }
}

TEST_CASE("CSV has a line for each chorus, and quotes what needs it") {
  const Played played;
  if (!app::keeps_history())
    return;
  const auto ran = run({"history", "--csv"});
  CHECK(count_lines(ran.out) == 9);
  CHECK(ran.out.find("2026-03-02T12:00:00Z,A,C,\"minor, own\",chord,quay-lamps,84.0,,30.0,") !=
        std::string::npos);
}

TEST_CASE("each profile has a history of its own") {
  const Played played("Ana Maria");
  if (!app::keeps_history())
    return;
  CHECK(json_of(run({"history", "--json", "--profile", "Ana Maria"}))["choruses"] == 8);
  CHECK(json_of(run({"history", "--json"}))["choruses"] == 0);
  for (const char* bad : {"../player", "a/b", ".", "x\n"})
    CHECK(run({"history", "--profile", bad}).exit == 2);
}

TEST_CASE("plots go into a file; what cannot be written or read is one line and exit 1") {
  const Played played;
  const auto file = (played.folder.path / "plots.svg").string();
  CHECK(run({"history", "--svg", file}).exit == 0);
  CHECK(std::filesystem::file_size(file) > 100);
  CHECK(
      run({"history", "--svg", (played.folder.path / "no" / "such" / "\n").string() + "/"}).exit ==
      1);
  CHECK(run({"history", "--json", "--csv"}).exit == 2);
  std::filesystem::create_directories(app::history_file("broken")->parent_path());
  std::ofstream(*app::history_file("broken")) << std::string(3000, 'x');
  const auto ran = run({"history", "--profile", "broken"});
  CHECK(ran.exit == 1);
  CHECK(count_lines(ran.err) == 1);
}
