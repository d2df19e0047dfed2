#include "app/set_list_page.hpp"

#include "app/data.hpp"
#include "app/library.hpp"
#include "app/words.hpp"
#include "practice/place_text.hpp"

#include <charconv>
#include <cmath>

namespace landfall::app {
namespace {

constexpr std::string_view new_value = "new", song_value = "row:";

std::string title_of(const std::string& song) {
  std::istringstream nothing;
  const auto loaded = load_song(song, nothing);
  return loaded ? loaded->song->title : song;
}

std::string file_name_of(const std::string& title) {
  std::string name;
  for (const char c : title)
    name += c == '/' || c == '\\' || static_cast<unsigned char>(c) < ' ' ? '-' : c;
  return name.empty() || name.front() == '.' ? "set list" + name : name;
}

} // namespace

std::vector<SetListFile> read_set_lists(const std::filesystem::path& folder, std::string& problem) {
  std::vector<SetListFile> files;
  for (const auto& path : files_in(folder, ".setlist")) {
    const auto text = read_file(path, 1U << 20U);
    auto list = practice::read_set_list(text.text);
    if (text.error.empty() && list)
      files.push_back({path, std::move(*list)});
    else
      problem = text.error.empty() ? located(path.filename().string(), list.error()) : text.error;
  }
  return files;
}

std::string write_set_list(const std::filesystem::path& folder, SetListFile& file) {
  std::error_code failed;
  std::filesystem::create_directories(folder, failed);
  if (failed)
    return failed.message();
  if (file.path.empty()) {
    const auto name = file_name_of(file.list.title);
    file.path = folder / (name + ".setlist");
    for (int number = 2; std::filesystem::exists(file.path, failed) && number < 1000; ++number)
      file.path = folder / (name + " " + std::to_string(number) + ".setlist");
  }
  return write_file(file.path, as_text(file.list));
}

std::string plan_words(const practice::SongPlan& plan) {
  std::string words;
  const auto add = [&](const std::string& word) {
    if (!word.empty())
      words += (words.empty() ? "" : " · ") + word;
  };
  add(plan.key ? key_words(*plan.key) : "");
  add(plan.beats_per_minute ? std::to_string(std::lround(*plan.beats_per_minute)) + " bpm" : "");
  add(plan.feel.empty() ? "" : feel_words(plan.feel));
  add(plan.place ? practice::place_text(*plan.place) : "");
  return words;
}

SetListPage::SetListPage(std::filesystem::path folder, practice::SongPlan present, Calls calls)
    : folder_(std::move(folder)), present_(std::move(present)), calls_(std::move(calls)) {
  std::string problem;
  files_ = read_set_lists(folder_, problem);
  if (!problem.empty())
    calls_.say(problem);
  list_.title = "Set lists";
  list_.lines = {"Songs keep the tempo, key, feel and place that they are added with."};
  list_.hints = "Return play or add  Ctrl+Up Ctrl+Down move it  Delete take it out";
  list_.has_query = true;
  rebuild();
}

void SetListPage::rebuild() {
  list_.items.clear();
  rows_.clear();
  const auto row = [&](Row each) {
    rows_.push_back(each);
    return std::string(song_value) + std::to_string(rows_.size() - 1);
  };
  for (std::size_t f = 0; f < files_.size(); ++f) {
    const auto& list = files_[f].list;
    list_.items.push_back(
        {list.title.empty() ? files_[f].path.stem().string() : list.title, "", "", {}, false});
    for (std::size_t s = 0; s < list.songs.size(); ++s)
      list_.items.push_back(
          {title_of(list.songs[s].song), plan_words(list.songs[s]), row({f, s}), {}, false});
    list_.items.push_back(
        {"Add " + title_of(present_.song), plan_words(present_), row({f, {}}), {}, false});
  }
  list_.items.push_back({list_.query.text().empty() ? "Type a name for a new set list"
                                                    : "New set list: " + list_.query.text(),
                         "",
                         std::string(new_value),
                         {},
                         false});
  list_.move(0);
}

void SetListPage::show(FrameInput& input) {
  auto page = list_.page();
  page.query_hint = "type to search, or a new name";
  input.page = page;
}

std::optional<SetListPage::Row> SetListPage::selected() const {
  const auto value = list_.value();
  if (!value.starts_with(song_value))
    return std::nullopt;
  std::size_t number = 0;
  std::from_chars(value.data() + song_value.size(), value.data() + value.size(), number);
  return number < rows_.size() ? std::optional(rows_[number]) : std::nullopt;
}

bool SetListPage::press(const render::KeyPress& press) {
  if (press.control && (press.name == "Up" || press.name == "Down"))
    return move(press.name == "Up" ? -1 : 1), true;
  if (press.name == "Return" && !press.control)
    return choose(), true;
  const auto query = list_.query.text();
  if (list_.press(press)) {
    if (list_.query.text() != query)
      rebuild();
    return true;
  }
  return press.name == "Delete" && (remove(), true);
}

void SetListPage::type(std::string_view text) {
  list_.type(text);
  rebuild();
}

void SetListPage::click(const render::Hit& hit, render::MouseButton button) {
  if (list_.click(hit) && button == render::MouseButton::left)
    choose();
}

void SetListPage::choose() {
  if (list_.value() == new_value)
    return make_new();
  const auto row = selected();
  if (!row)
    return;
  if (!row->song)
    return add_to(row->file);
  calls_.play(files_[row->file], *row->song);
  close();
}

void SetListPage::make_new() {
  if (list_.query.text().empty())
    return calls_.say("type its name first");
  files_.push_back({{}, {list_.query.text(), {present_}}});
  list_.query = TextField();
  keep(files_.size() - 1);
}

void SetListPage::add_to(std::size_t file) {
  files_[file].list.songs.push_back(present_);
  keep(file);
}

void SetListPage::remove() {
  const auto row = selected();
  if (!row || !row->song)
    return;
  auto& songs = files_[row->file].list.songs;
  calls_.say("took out " + title_of(songs[*row->song].song));
  songs.erase(songs.begin() + static_cast<std::ptrdiff_t>(*row->song));
  keep(row->file);
}

void SetListPage::move(int steps) {
  const auto row = selected();
  if (!row || !row->song)
    return;
  auto& songs = files_[row->file].list.songs;
  const auto to = static_cast<std::ptrdiff_t>(*row->song) + steps;
  if (to < 0 || to >= static_cast<std::ptrdiff_t>(songs.size()))
    return;
  std::swap(songs[*row->song], songs[static_cast<std::size_t>(to)]);
  list_.selected += steps;
  keep(row->file);
}

void SetListPage::keep(std::size_t file) {
  if (const auto reason = write_set_list(folder_, files_[file]); !reason.empty())
    calls_.say("the set list could not be saved: " + reason);
  rebuild();
}

} // namespace landfall::app
