#include "app/input_page.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace landfall;
using namespace landfall::app;

namespace {

const std::vector<InputInfo> open{{player_input, InputRole::player, "Strings"},
                                  {first_control_input, InputRole::controls, "Step"}};

midi::InputSetup after(const std::string& change, const midi::InputSetup& before = {},
                       const std::optional<ModeProposal>& proposal = {}) {
  const auto changed = changed_input("input:0:" + change, open, {{"Strings", before}}, proposal);
  REQUIRE(changed);
  CHECK(changed->first == "Strings");
  return changed->second;
}

std::vector<std::string> values(const Settings& settings,
                                const std::optional<ModeProposal>& proposal = {}) {
  ChoiceList list;
  add_input_rows(list, open, settings, {{"Strings", "jack"}, {"Step", "jack"}}, proposal);
  std::vector<std::string> all;
  for (const auto& item : list.items)
    all.push_back(item.value);
  return all;
}

} // namespace

TEST_CASE("every row of the page but headings and the latency is a change that is understood") {
  Settings settings;
  settings.inputs["Strings"].mode = midi::InputMode::per_string;
  int changes = 0;
  for (const auto& value : values(settings))
    if (value.starts_with("input:")) {
      ++changes;
      CHECK(changed_input(value, open, settings.inputs, {}));
    }
  CHECK(changes == 7);
  CHECK_FALSE(changed_input("input:2:bend", {}, {}, {}));
  CHECK_FALSE(changed_input("input:0:dance", open, {}, {}));
  CHECK_FALSE(changed_input("input:0", open, {}, {}));
  CHECK_FALSE(changed_input("out:synth", open, {}, {}));
}

TEST_CASE("only who plays is asked how it is read") {
  for (const auto& value : values({}))
    CHECK_FALSE(value.starts_with("input:2"));
}

TEST_CASE("modes, channels, strings and bend ranges go round") {
  midi::InputSetup setup;
  CHECK(after("mode MPE upper zone").mode == midi::InputMode::mpe_upper);
  for (int i = 0; i < 16; ++i)
    setup = after("base", setup);
  CHECK(setup.base_channel == 0);
  setup = after("bend", setup);
  CHECK(setup.bend_semitones == 1);
  for (int i = 0; i < 6; ++i)
    setup = after("bend", setup);
  CHECK_FALSE(setup.bend_semitones);
  for (int i = 0; i < 9; ++i)
    setup = after("strings", setup);
  CHECK(setup.strings == 6);
}

TEST_CASE("a proposed mode is shown, said, and taken with its channels") {
  ModeProposal proposal{"Strings", {}};
  proposal.setup.mode = midi::InputMode::per_string;
  proposal.setup.base_channel = 10;
  CHECK(after("mode one channel per string", {}, proposal).base_channel == 10);
  CHECK(after("mode MPE lower zone", {}, proposal).base_channel == 0);
  CHECK(proposal_words(proposal).find("channel 11") != std::string::npos);
  ChoiceList list;
  add_input_rows(list, open, {}, {}, proposal);
  CHECK(std::count_if(list.items.begin(), list.items.end(),
                      [](const auto& item) { return item.detail == "it looks like this"; }) == 1);
}
