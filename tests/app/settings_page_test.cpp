#include "app/actions.hpp"
#include "app/control_actions.hpp"
#include "app/settings_page.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace landfall;
using namespace landfall::app;

namespace {

const ChoiceList::Item* row(const ChoiceList& list, const std::string& text) {
  const auto found = std::find_if(list.items.begin(), list.items.end(),
                                  [&](const auto& item) { return item.text == text; });
  return found == list.items.end() ? nullptr : &*found;
}

ChoiceList usual(const Settings& settings = {}) {
  return settings_list(settings, neck::standard_guitar(), {"keys in", "12 ms", false});
}

render::KeyPress key(const char* name) {
  render::KeyPress press;
  press.name = name;
  return press;
}

} // namespace

TEST_CASE("every row of the settings that names an action names one of the table") {
  int actions = 0;
  for (const auto& item : usual().items)
    for (const auto& value : {item.value, item.back})
      if (value.starts_with("do:")) {
        INFO(value);
        CHECK(action_named(value.substr(3)).has_value());
        ++actions;
      }
  CHECK(actions > 20);
}

TEST_CASE("the page of settings says how things are") {
  Settings settings;
  settings.look.theme = render::Theme::paper;
  settings.look.text_scale = 1.25;
  settings.own_sound = true;
  const auto list = usual(settings);
  REQUIRE(row(list, "Theme") != nullptr);
  CHECK(row(list, "Theme")->detail == "light");
  CHECK(row(list, "Text")->detail == "125 %");
  CHECK(row(list, "Your sound")->value == "through");
  CHECK(row(list, "How late you are heard")->detail == "12 ms");
  CHECK(row(list, "Tuning")->detail == "E2 A2 D3 G3 B3 E4");
  CHECK(row(settings_list({}, neck::standard_guitar(), {}), "How late you are heard") == nullptr);
  CHECK(row(settings_list({}, neck::standard_keyboard(), {}), "Capo") == nullptr);
}

TEST_CASE("a row that has two ways is stepped left and right, any other leaves those keys alone") {
  std::vector<std::string> chosen;
  SettingsView view([] { return usual(); }, [&](const auto& value) { chosen.push_back(value); });
  FrameInput input;
  view.show(input);
  CHECK_FALSE(view.press(key("Right"))); // the instrument
  view.press(key("Down"));
  view.press(key("Down"));
  CHECK(view.press(key("Right")));
  CHECK(view.press(key("Left")));
  CHECK(view.press(key("Return")));
  CHECK(chosen == std::vector<std::string>{"capo:1", "capo:-1", "capo:1"});
}

TEST_CASE("the focus stays while the rows change under it") {
  auto instrument = neck::standard_guitar();
  SettingsView view([&] { return settings_list({}, instrument, {}); }, [](const auto&) {});
  FrameInput input;
  view.press(key("End"));
  view.show(input);
  instrument = neck::standard_keyboard(); // five rows less
  view.show(input);
  const auto& page = std::get<render::ListPage>(input.page);
  CHECK(page.selected == static_cast<int>(page.rows.size()) - 1);
}
