#include "app/own_data.hpp"
#include "app/phrase_files.hpp"
#include "app/run_json.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>

using namespace landfall;
using landfall::test::lines_of;
using landfall::test::OwnData;
using landfall::test::run;
using landfall::test::ScratchFolder;

TEST_CASE("phrases that are kept stand beside the shipped ones, and none is written over") {
  const ScratchFolder scratch;
  const OwnData own(scratch.path);
  const auto shipped = app::load_phrase("kettle-lid");
  REQUIRE(shipped);
  auto kept = *shipped;
  kept.name = "Slow Water, call";
  REQUIRE(app::can_be_kept(kept.phrase));
  const auto first = app::keep_phrase(kept);
  const auto second = app::keep_phrase(kept);
  const auto third = app::keep_phrase(*shipped);
  REQUIRE(first);
  REQUIRE(second);
  REQUIRE(third);
  CHECK(first->stem() == "slow-water-call");
  CHECK(second->stem() == "slow-water-call-2");
  CHECK(third->stem() == "kettle-lid-2");
  CHECK(app::load_phrase("slow-water-call").value() == kept);
  CHECK(app::load_phrase("slow-water-call-2")->phrase == kept.phrase);
  CHECK(app::load_phrase("kettle-lid").value() == *shipped);
}

TEST_CASE("a phrase whose bars are not of one metre cannot be kept") {
  auto phrase = app::load_phrase("kettle-lid")->phrase;
  CHECK(app::can_be_kept(phrase));
  phrase.length += quarter;
  CHECK(!app::can_be_kept(phrase));
}

TEST_CASE("phrase lists names and tags, by tag if asked, and shows one") {
  const ScratchFolder scratch;
  const OwnData own(scratch.path);
  const auto all = run({"phrase", "--json"});
  CHECK(all.exit == 0);
  CHECK(lines_of(all).size() >= 12);
  const auto blues = lines_of(run({"phrase", "--json", "--tag", "blues"}));
  CHECK(!blues.empty());
  CHECK(blues.size() < lines_of(all).size());
  for (const auto& line : blues)
    CHECK(std::ranges::count(line["tags"], "blues") == 1);
  const auto one = lines_of(run({"phrase", "wet-rope", "--json"}));
  REQUIRE(one.size() == 1);
  CHECK(one[0]["metre"] == "12/8");
  CHECK(one[0]["notes"][0]["name"] == "D5");
  CHECK(one[0]["notes"][0]["bend_cents"] == 200.0);
  CHECK(trade::read_phrase(run({"phrase", "wet-rope"}).out).value() ==
        app::load_phrase("wet-rope").value());
}

TEST_CASE("phrase says in one line what is missing, wrong, or asked for wrongly") {
  const ScratchFolder scratch;
  const OwnData own(scratch.path);
  CHECK(run({"phrase", "no-such"}).exit == 1);
  CHECK(run({"phrase", "no-such"}).err.find("there is no phrase 'no-such'") != std::string::npos);
  CHECK(run({"phrase", "kettle-lid", "--tag", "blues"}).exit == 2);
  CHECK(run({"phrase", "--nonsense"}).exit == 2);
  const auto broken = scratch.path / "broken.phrase";
  std::ofstream(broken) << "name: x\nover: | Q |\n";
  const auto ran = run({"phrase", broken.string()});
  CHECK(ran.exit == 1);
  CHECK(ran.err.find("broken.phrase:2:9: ") != std::string::npos);
}
