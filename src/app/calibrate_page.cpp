#include "app/calibrate_page.hpp"

#include <algorithm>

namespace landfall::app {
namespace {

constexpr Nanoseconds interval{600'000'000};
constexpr Nanoseconds until_first{1'000'000'000};
constexpr int lead_in = 4;
constexpr int all_clicks = lead_in + ear::calibration_clicks;

} // namespace

midi::InputSetup calibrated(midi::InputSetup setup, const ear::Calibration& found) {
  const auto place = [&](int string) -> Nanoseconds* {
    const bool known = string >= 1 && string <= static_cast<int>(setup.string_latency.size());
    return known ? &setup.string_latency[static_cast<std::size_t>(string - 1)] : nullptr;
  };
  const bool one_string = found.strings.size() == 1 && found.only_string;
  if (setup.latency && one_string) {
    if (auto* late = place(found.strings.begin()->first))
      *late = found.offset - *setup.latency;
    return setup;
  }
  setup.latency = found.offset;
  setup.string_latency.fill(Nanoseconds{});
  for (const auto& [string, late] : found.strings)
    if (auto* own = place(string))
      *own = late;
  return setup;
}

CalibratePage::CalibratePage(Links links) : links_(std::move(links)) {
  list_.title = "Calibrate";
  begin();
}

void CalibratePage::begin() {
  clicker_.reset();
  taps_.clear();
  result_.reset();
  list_.items = {{"Begin again", "", "again", {}, false}, {"Leave it", "", "leave", {}, false}};
  list_.selected = 0;
  first_ = links_.now() + until_first;
  clicker_ = std::make_unique<Clicker>(first_, interval, all_clicks,
                                       [click = links_.click](int n) { click(n % lead_in == 0); });
}

void CalibratePage::finish() {
  clicker_.reset();
  result_ = ear::calibrate(taps_, interval);
  if (*result_)
    list_.items.insert(list_.items.begin(), {"Keep it", "", "keep", {}, false});
  list_.selected = 0;
}

int CalibratePage::clicks_so_far() const {
  const auto since = links_.now() - first_;
  return since < Nanoseconds{} ? 0 : static_cast<int>(since / interval) + 1;
}

std::vector<std::string> CalibratePage::lines() const {
  if (result_ && !*result_)
    return {result_->error() + "."};
  if (result_)
    return {links_.port + ": " + ear::calibration_words(result_->value()) + ".",
            "All judging takes this off."};
  const int clicks = clicks_so_far();
  if (clicks <= lead_in)
    return {"Listen to four clicks, then play one short note on each of the next eight.",
            clicks == 0 ? "" : "listen: " + std::to_string(clicks)};
  const int number = std::min(clicks - lead_in, ear::calibration_clicks);
  return {"Play one short note on each click.",
          std::to_string(number) + " of " + std::to_string(ear::calibration_clicks) + ", " +
              std::to_string(taps_.size()) + (taps_.size() == 1 ? " note heard" : " notes heard")};
}

void CalibratePage::show(FrameInput& input) {
  if (clicker_ && links_.now() >= first_ + interval * all_clicks)
    finish();
  list_.lines = lines();
  input.page = list_.page();
}

bool CalibratePage::hear(const midi::InputEvent& event) {
  const auto* note = std::get_if<midi::NoteEvent>(&event);
  if (clicker_ == nullptr || note == nullptr || !note->on)
    return false;
  const auto at = note->time - (first_ + interval * lead_in);
  if (at > -interval / 2)
    taps_.push_back({at, note->string});
  return false;
}

void CalibratePage::choose() {
  const auto value = list_.value();
  if (value == "again")
    return begin();
  if (value == "keep")
    links_.keep(result_->value());
  close();
}

bool CalibratePage::press(const render::KeyPress& press) {
  if (press.name == "Return" && !press.control)
    return choose(), true;
  return list_.press(press);
}

void CalibratePage::click(const render::Hit& hit, render::MouseButton button) {
  if (list_.click(hit) && button == render::MouseButton::left)
    choose();
}

} // namespace landfall::app
