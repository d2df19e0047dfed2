#include "app/learn_page.hpp"

#include "app/control_actions.hpp"
#include "app/outputs.hpp"

#include <algorithm>
#include <array>

namespace landfall::app {
namespace {

constexpr std::string_view profile_prefix = "profile:", action_prefix = "action:";

constexpr std::array presses{midi::Press::once, midi::Press::long_press, midi::Press::twice};

std::string_view words_of(midi::Press press) {
  constexpr std::array<std::string_view, 3> all{"one press", "a long press", "two presses"};
  return all[static_cast<std::size_t>(press)];
}

} // namespace

LearnPage::LearnPage(midi::ControlMap map, Links links)
    : map_(std::move(map)), links_(std::move(links)), profiles_(control_profiles()) {
  fill();
  const auto first = std::find_if(list_.items.begin(), list_.items.end(), [](const auto& item) {
    return item.value.starts_with(action_prefix);
  });
  list_.selected = static_cast<int>(first - list_.items.begin());
}

void LearnPage::fill() {
  list_.title = "Controls";
  list_.has_query = true;
  list_.hints = "Return bind it  Tab another kind of press  Delete take its controls away";
  list_.items.clear();
  const auto heading = [&](std::string_view text) {
    list_.items.push_back({std::string(text), "", "", {}, false});
  };
  const auto add = [&](std::string_view name, std::string_view help) {
    const auto bound = bound_words(std::string(name));
    list_.items.push_back({std::string(help),
                           bound,
                           std::string(action_prefix) + std::string(name),
                           {},
                           !bound.empty()});
  };
  heading("Ready-made");
  for (const auto& profile : profiles_)
    list_.items.push_back({profile.title,
                           std::to_string(profile.map.bindings.size()) + " bound",
                           std::string(profile_prefix) + profile.title,
                           {},
                           false});
  std::string_view section;
  for (const auto& row : action_table()) {
    if (row.section != std::exchange(section, row.section))
      heading(row.section);
    add(row.name, row.help);
  }
  heading("Knobs, pedals and wheels");
  for (const auto& row : value_table())
    add(row.name, row.help);
}

std::string LearnPage::bound_words(const std::string& action) const {
  std::string all;
  for (const auto& binding : map_.bindings)
    if (binding.action == action)
      all += (all.empty() ? "" : ", ") + words(binding.control) +
             std::string(midi::press_word(binding.press)) +
             (binding.device.empty() ? "" : " · " + short_name(binding.device));
  return all;
}

std::string LearnPage::state_line() const {
  if (learner_)
    return "Now move the control for: " + std::string(control_help(action_->name)) +
           ". Press it and let go, or turn it to the right.";
  return "A row is bound to " + std::string(words_of(press_)) + " of a control.";
}

void LearnPage::show(FrameInput& input) {
  list_.lines = {state_line()};
  auto page = list_.page();
  if (learner_)
    page.hints = "Escape leave it";
  const auto row = static_cast<std::size_t>(std::max(list_.selected, 0));
  if (learner_ && row < page.rows.size())
    page.rows[row].detail = learner_->hears() ? "heard it" : "move it now";
  input.page = page;
}

bool LearnPage::press(const render::KeyPress& press) {
  if (learner_ && (press.name == "Escape" || press.name == "Return")) {
    learner_.reset();
    return true;
  }
  if (press.name == "Return" && !press.control)
    return choose(), true;
  if (press.name == "Tab" && !press.control) {
    press_ = presses[(static_cast<std::size_t>(press_) + 1) % presses.size()];
    return true;
  }
  if (list_.press(press)) {
    learner_.reset(); // it listened for another row
    return true;
  }
  return press.name == "Delete" && (remove(), true);
}

void LearnPage::type(std::string_view text) {
  list_.type(text);
}

void LearnPage::click(const render::Hit& hit, render::MouseButton button) {
  if (!list_.click(hit))
    return;
  learner_.reset();
  if (button == render::MouseButton::left)
    choose();
}

void LearnPage::scroll(int steps) {
  learner_.reset();
  list_.move(-steps);
}

void LearnPage::choose() {
  const auto value = list_.value();
  if (value.starts_with(profile_prefix))
    return use_profile(value.substr(profile_prefix.size()));
  const auto name = value.starts_with(action_prefix) ? value.substr(action_prefix.size()) : "";
  for (const auto& action : control_actions())
    if (action.name == name)
      listen(action);
}

void LearnPage::listen(const midi::ControlAction& action) {
  action_ = action;
  learner_.emplace(action);
}

bool LearnPage::learn(const midi::StampedMessage& message) {
  if (!learner_)
    return false;
  learner_->hear(message);
  return true;
}

void LearnPage::advance(TimePoint now) {
  const auto learned = learner_ ? learner_->learned(now) : std::nullopt;
  if (!learned)
    return;
  learner_.reset();
  bind(*learned);
}

void LearnPage::bind(const midi::Learned& learned) {
  midi::Binding binding{links_.port(learned.input), learned.control, learned.way, press_,
                        action_->name};
  const bool turns =
      learned.way != midi::ControlWay::momentary && learned.way != midi::ControlWay::latching;
  if (turns)
    binding.press = midi::Press::once;
  if (binding.press == midi::Press::long_press &&
      (learned.way == midi::ControlWay::latching ||
       learned.control.kind == midi::ControlKind::program))
    return links_.say(words(learned.control) + " does not say when it is let go: no long press");
  if (const auto reason = midi::misfit(binding, *action_); !reason.empty())
    return links_.say(reason);
  const auto joined = with_binding(map_, binding);
  if (!joined)
    return links_.say(joined.error());
  set(*joined);
  const bool key = learned.control.kind == midi::ControlKind::note && links_.plays(learned.input);
  links_.say(words(learned.control) + ": " + std::string(control_help(action_->name)) +
             (key ? "; it no longer plays" : ""));
}

void LearnPage::remove() {
  const auto value = list_.value();
  if (!value.starts_with(action_prefix))
    return;
  auto map = map_;
  const auto name = value.substr(action_prefix.size());
  if (std::erase_if(map.bindings, [&](const auto& b) { return b.action == name; }) > 0)
    set(map);
}

void LearnPage::use_profile(const std::string& title) {
  const auto profile = std::find_if(profiles_.begin(), profiles_.end(),
                                    [&](const auto& known) { return known.title == title; });
  if (profile == profiles_.end())
    return;
  const auto joined = with_profile(map_, *profile);
  if (!joined)
    return links_.say(joined.error());
  set(*joined);
  links_.say(title + ": " + std::to_string(profile->map.bindings.size()) + " controls are bound");
}

void LearnPage::set(const midi::ControlMap& map) {
  map_ = map;
  fill();
  links_.changed(map_);
}

} // namespace landfall::app
