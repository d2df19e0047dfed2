#include "app/first_start.hpp"

#include "app/help.hpp"
#include "app/outputs.hpp"

#include <algorithm>
#include <array>

namespace landfall::app {
namespace {

/// The common ones first; tunings are for a wider page.
std::vector<ChoiceList::Item> known_instruments() {
  auto items = instrument_list("").items;
  const auto rank = [](const ChoiceList::Item& item) {
    constexpr std::array common{"instrument:guitar", "instrument:keyboard", "instrument:bass"};
    return std::find(common.begin(), common.end(), item.value) - common.begin();
  };
  std::stable_sort(items.begin(), items.end(),
                   [&](const auto& a, const auto& b) { return rank(a) < rank(b); });
  for (auto& item : items)
    item.detail.clear();
  return items;
}

} // namespace

FirstStart::FirstStart(Links links) : links_(std::move(links)), instruments_(known_instruments()) {
  ask();
  focus("");
}

std::vector<FirstStart::Step> FirstStart::steps() const {
  using enum Step;
  std::vector<Step> all{instrument, input, output, care};
  if (state_.settings.in != "none")
    all.insert(all.begin() + 2, own_sound);
  if (state_.has_input)
    all.insert(all.end() - 1, latency);
  return all;
}

void FirstStart::add(std::string text, std::string detail, std::string value, bool chosen) {
  list_.items.push_back({std::move(text), std::move(detail), std::move(value), {}, chosen});
}

void FirstStart::instruments() {
  list_.title = "What do you play?";
  list_.lines = {"The band loops. Filled discs are safe to land on now; arcs close on what is safe "
                 "next. A few questions, then it is yours."};
  list_.items = instruments_;
  for (auto& item : list_.items)
    item.chosen = item.value == "instrument:" + state_.settings.instrument.name;
}

void FirstStart::inputs() {
  list_.title = "Where is it plugged in?";
  const auto& ports = state_.ports.inputs;
  list_.lines = {ports.empty() ? "No MIDI input is there yet; plug it in and it appears here."
                               : "Play a note: the input that is heard is marked."};
  const auto& now = state_.settings.in;
  for (const auto& port : ports)
    add(port.name, port.name == heard_ ? "heard" : port.api, "in:" + port.name, now == port.name);
  add("The first that comes", "also later", "in:", now.empty());
  add("A port of our own", "others connect to it", "in:virtual", now == "virtual");
  add("No MIDI", "keys and mouse", "in:none", now == "none");
}

void FirstStart::own_sound() {
  list_.title = "Its own sound?";
  list_.lines = {"What makes its own sound is not played through Landfall too."};
  add("Yes, it makes its own", "", "own-sound", state_.settings.own_sound);
  add("No, play it through Landfall", "", "through", !state_.settings.own_sound);
}

void FirstStart::outputs() {
  list_.title = "The band's sound";
  list_.lines = {"Turn the volume down first. A choice plays a test sound: four notes, going up."};
  const auto& now = state_.settings.out;
  add("The built-in synth", "", "out:synth", now == "synth");
  for (const auto& port : state_.ports.outputs)
    add(port.name, port.api, "out:" + port.name, now == port.name);
  add("A port of our own", "others connect to it", "out:virtual", now == "virtual");
  add("Test sound", "", "test-sound");
  add("I hear it: go on", "", "next");
}

void FirstStart::latency() {
  list_.title = "Your latency";
  list_.lines = {"How late you are heard is measured once for each input, in half a minute: play "
                 "along with eight clicks. Then it can be told whether you are ahead or behind."};
  add("Measure now", state_.latency, "calibrate");
  add(state_.latency.empty() ? "Later" : "Go on", "", "next");
}

void FirstStart::care() {
  list_.title = "Hands and ears";
  list_.lines = care_lines();
  add("Play", "", "next");
}

void FirstStart::end_rows() {
  add("", "", "");
  if (step_ != Step::instrument)
    add("Back", "", "back");
  if (step_ != Step::care)
    add("Skip the questions", "Escape", "skip");
}

/// Written anew as things stand.
void FirstStart::ask() {
  state_ = links_.state();
  list_.beside = true;
  list_.items.clear();
  const auto all = steps();
  switch (step_) {
  case Step::instrument:
    instruments();
    break;
  case Step::input:
    inputs();
    break;
  case Step::own_sound:
    own_sound();
    break;
  case Step::output:
    outputs();
    break;
  case Step::latency:
    latency();
    break;
  case Step::care:
    care();
    break;
  }
  const auto at = std::find(all.begin(), all.end(), step_) - all.begin() + 1;
  list_.lines.push_back(std::to_string(at) + " of " + std::to_string(all.size()));
  end_rows();
}

/// The row of a value; where there is none, the present answer, else the first.
void FirstStart::focus(const std::string& value) {
  const auto& items = list_.items;
  auto found = std::find_if(items.begin(), items.end(), [&](const auto& item) {
    return value.empty() ? item.chosen : item.value == value;
  });
  list_.selected = found == items.end() ? 0 : static_cast<int>(found - items.begin());
}

void FirstStart::go(int steps) {
  const auto all = this->steps();
  const auto here = std::find(all.begin(), all.end(), step_);
  const auto left = all.end() - 1; // its input went: what is asked last
  const auto at = (here == all.end() ? left - steps : here) - all.begin() + steps;
  if (at >= static_cast<std::ptrdiff_t>(all.size()))
    return let_go();
  step_ = all[static_cast<std::size_t>(std::max<std::ptrdiff_t>(at, 0))];
  ask();
  focus("");
}

void FirstStart::answer() {
  const auto value = list_.value();
  if (value == "next")
    return go(1);
  if (value == "back")
    return go(-1);
  if (value == "skip" || value.empty())
    return value.empty() ? void() : let_go();
  links_.choose(value);
  state_ = links_.state();
  if (step_ == Step::output) {
    if (value != "test-sound")
      links_.choose("test-sound");
    ask();
    return focus("next");
  }
  if (value != "calibrate")
    go(1);
}

void FirstStart::heard(const std::string& port) {
  if (!asks_for_input() || port == heard_)
    return;
  heard_ = port;
  ask();
  focus("in:" + port);
}

void FirstStart::show(FrameInput& input) {
  const auto value = list_.value();
  ask();
  if (!value.empty())
    focus(value);
  input.page = list_.page();
}

bool FirstStart::press(const render::KeyPress& press) {
  if (press.control || press.alt)
    return false;
  if (press.name == "Return")
    return answer(), true;
  if (press.name == "Left" || press.name == "Right")
    return go(press.name == "Left" ? -1 : 1), true;
  return list_.press(press);
}

void FirstStart::click(const render::Hit& hit, render::MouseButton button) {
  if (list_.click(hit) && button == render::MouseButton::left)
    answer();
}

void FirstStart::let_go() {
  close();
  links_.done();
}

} // namespace landfall::app
