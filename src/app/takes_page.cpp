#include "app/takes_page.hpp"

#include "app/data.hpp"
#include "app/field_keys.hpp"
#include "app/review_json.hpp"
#include "ear/words.hpp"
#include "practice/history.hpp"

#include <algorithm>
#include <functional>

namespace landfall::app {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view away = "put away"; ///< The folder of takes that were taken off the page.
constexpr std::string_view none_yet =
    "None yet: R keeps the one that plays, and one of two minutes keeps itself.";
constexpr std::string_view about = "How long, and changes landed of those played.";
constexpr auto hints = "Return open  F2 name it  Delete put it away  Ctrl+Z bring that back";
constexpr auto name_hints = "Return keep the name  Escape leave it as it was";

std::string minutes_words(Nanoseconds length) {
  const auto seconds = std::chrono::duration_cast<std::chrono::seconds>(length).count();
  const auto rest = seconds % 60;
  return std::to_string(seconds / 60) + (rest < 10 ? ":0" : ":") + std::to_string(rest);
}

/// The date in front of a take's name, with its blank: `2026-03-01 1204 `; 0 where there is none.
std::size_t length_of_date(std::string_view name) {
  constexpr std::string_view pattern = "0000-00-00 0000";
  if (name.size() < pattern.size())
    return 0;
  for (std::size_t i = 0; i < pattern.size(); ++i)
    if (pattern[i] == '0' ? name[i] < '0' || name[i] > '9' : name[i] != pattern[i])
      return 0;
  return pattern.size() + (name.size() > pattern.size() && name[pattern.size()] == ' ' ? 1 : 0);
}

std::string move_file(const fs::path& from, const fs::path& to) {
  std::error_code failed;
  if (fs::exists(to, failed))
    return "there is a take of that name already";
  fs::create_directories(to.parent_path(), failed);
  fs::rename(from, to, failed);
  return failed ? failed.message() : "";
}

bool is_file_name(const std::string& name) {
  return !name.empty() && name.size() < 200 && name.find('/') == std::string::npos &&
         name.find('\\') == std::string::npos && name.front() != '.';
}

/// What the worker finds out.
TakeWords read_words(const fs::path& path, const std::shared_ptr<const band::FeelBook>& feels) {
  const auto bytes = read_file(path);
  if (!bytes.error.empty())
    return {bytes.error, {}};
  const auto read = read_take(bytes.text);
  if (!read.take)
    return {read.error.empty() ? "no take of ours" : read.error, {}};
  return words_of(*read.take, feels);
}

} // namespace

TakeWords words_of(const Take& take, const std::shared_ptr<const band::FeelBook>& feels) {
  const auto judgement = judge_take(take, feels);
  TakeWords words;
  words.detail = minutes_words(take_tempo(take.head.timeline).time_at(take.head.to));
  practice::Landings landings;
  landings.add(judgement.summary);
  if (landings.played > 0)
    words.detail +=
        " · " + std::to_string(landings.landed) + " of " + std::to_string(landings.played);
  for (const auto chorus : ear::by_chorus(judgement.changes))
    words.choruses.push_back("Chorus " + std::to_string(chorus.front().chorus + 1) + ": " +
                             ear::changes_words(chorus));
  return words;
}

std::string rename_take(const fs::path& take, const std::string& name) {
  const auto old = take.stem().string();
  const auto date = old.substr(0, length_of_date(old));
  if (!is_file_name(name))
    return "a name is short, without / and \\, and begins with no dot";
  const auto wanted = date + (date.empty() || date.back() == ' ' ? "" : " ") + name;
  return wanted == old ? "" : move_file(take, take.parent_path() / (wanted + ".mid"));
}

TakesPage::TakesPage(fs::path folder, std::shared_ptr<const band::FeelBook> feels, Calls calls)
    : folder_(std::move(folder)), feels_(std::move(feels)), calls_(std::move(calls)) {
  list_.title = "Takes";
  list_.hints = hints;
  rebuild("");
}

void TakesPage::rebuild(const std::string& selected) {
  std::vector<std::string> names;
  for (const auto& path : files_in(folder_, ".mid"))
    names.push_back(path.stem().string());
  std::sort(names.begin(), names.end(), std::greater<>()); // their names begin with the date
  list_.lines = {std::string(names.empty() ? none_yet : about)};
  list_.items.clear();
  for (const auto& name : names) {
    list_.items.push_back({name, "…", name, {}, false});
    read(name);
  }
  const auto found = std::find(names.begin(), names.end(), selected);
  list_.selected = found == names.end() ? list_.selected : static_cast<int>(found - names.begin());
  list_.move(0);
}

void TakesPage::read(const std::string& name) {
  calls_.post([shared = std::weak_ptr(words_), path = path_of(name), name, feels = feels_] {
    const auto words = shared.lock();
    if (!words) // the page is closed
      return std::string();
    {
      const std::lock_guard lock(words->mutex);
      if (words->by_name.contains(name))
        return std::string();
    }
    auto found = read_words(path, feels);
    const std::lock_guard lock(words->mutex);
    words->by_name[name] = std::move(found);
    return std::string();
  });
}

void TakesPage::fill_in() {
  const std::lock_guard lock(words_->mutex);
  reading_ = false;
  for (auto& item : list_.items) {
    const auto found = words_->by_name.find(item.value);
    if (found == words_->by_name.end()) {
      reading_ = true;
      continue;
    }
    item.detail = found->second.detail;
    item.preview = found->second.choruses;
  }
}

void TakesPage::show(FrameInput& input) {
  fill_in();
  auto page = list_.page();
  if (name_) {
    page.has_query = true;
    page.query = name_->text();
    page.query_caret = name_->caret();
    page.query_hint = "its name";
    page.hints = name_hints;
  }
  input.page = page;
}

bool TakesPage::press_in_name(const render::KeyPress& press) {
  if (press.name == "Escape")
    name_.reset();
  else if (press.name == "Return")
    keep_name();
  else if (!press_in(*name_, press))
    return !press.control && !press.alt;
  return true;
}

bool TakesPage::press(const render::KeyPress& press) {
  if (name_)
    return press_in_name(press);
  if (list_.press(press))
    return true;
  if (press.control && press.name == "Z")
    return bring_back(), true;
  const auto value = list_.value();
  if (value.empty() || press.control)
    return false;
  if (press.name == "Return")
    return calls_.open(path_of(value)), true;
  if (press.name == "Delete")
    return put_away(), true;
  if (press.name == "F2")
    return name_.emplace(value.substr(length_of_date(value))), true;
  return false;
}

void TakesPage::type(std::string_view text) {
  if (name_)
    name_->insert(text);
}

/// While a take is being named, its name alone takes clicks.
void TakesPage::click(const render::Hit& hit, render::MouseButton button) {
  if (const auto* field = std::get_if<render::HitField>(&hit); field != nullptr && name_)
    name_->to(field->caret);
  if (!name_ && list_.click(hit) && button == render::MouseButton::left)
    calls_.open(path_of(list_.value()));
}

void TakesPage::scroll(int steps) {
  if (!name_)
    list_.move(-steps);
}

void TakesPage::keep_name() {
  const auto old = list_.value();
  const auto name = name_->text();
  if (const auto reason = rename_take(path_of(old), name); !reason.empty())
    return calls_.say(reason);
  name_.reset();
  rebuild(old.substr(0, length_of_date(old)) + name);
}

void TakesPage::put_away() {
  const auto name = list_.value();
  if (const auto reason = move_file(path_of(name), folder_ / away / (name + ".mid"));
      !reason.empty())
    return calls_.say("it stays: " + reason);
  put_away_.push_back(name);
  calls_.say("put away; Ctrl+Z brings it back");
  rebuild("");
}

void TakesPage::bring_back() {
  if (put_away_.empty())
    return calls_.say("nothing was put away");
  const auto name = put_away_.back();
  if (const auto reason = move_file(folder_ / away / (name + ".mid"), path_of(name));
      !reason.empty())
    return calls_.say(reason);
  put_away_.pop_back();
  rebuild(name);
}

} // namespace landfall::app
