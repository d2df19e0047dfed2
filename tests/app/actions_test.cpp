#include "app/actions.hpp"
#include "app/help.hpp"

#include <doctest/doctest.h>

#include <set>

using namespace landfall;
using namespace landfall::app;

TEST_CASE("every action has a name, a help text and a key of its own") {
  std::set<std::string_view> names, keys;
  std::set<Action> actions;
  for (const auto& row : action_table()) {
    CAPTURE(std::string(row.name));
    CHECK(names.insert(row.name).second);
    CHECK(actions.insert(row.action).second);
    CHECK(!row.help.empty());
    CHECK(!row.key.empty());
    CHECK(keys.insert(row.key).second);
    if (!row.other_key.empty())
      CHECK(keys.insert(row.other_key).second);
  }
  CHECK(actions.size() == static_cast<std::size_t>(Action::quit) + 1);
}

TEST_CASE("the help page lists every action once") {
  std::size_t rows = 0;
  for (const auto& section : help_page().sections)
    rows += section.rows.size();
  CHECK(rows == action_table().size());
}

TEST_CASE("keys are found by what they type, or by name") {
  const auto action = [](const char* name, const char* text, bool shift = false,
                         bool control = false) {
    render::KeyPress press;
    press.name = name;
    press.text = text;
    press.shift = shift;
    press.control = control;
    return action_of(press);
  };
  CHECK(action("Space", " ") == Action::toggle_play);
  CHECK(action("K", "k") == Action::key_up);
  CHECK(action("K", "K", true) == Action::key_down);
  CHECK(action("/", "?", true) == Action::help);
  CHECK(action("F1", "") == Action::help);
  CHECK(action("=", "=", false, true) == Action::text_larger);
  CHECK(action("Q", "", false, true) == Action::quit);
  CHECK(action("F24", "") == std::nullopt);
  CHECK(action("Escape", "\x1b") == Action::back);
  CHECK(action("Return", "\r") == Action::from_top);
  CHECK(action("Backspace", "\b") == Action::panic);
}
