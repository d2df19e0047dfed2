#include "app/lessons.hpp"

#include "app/data.hpp"
#include "app/own_sets.hpp"

#include <algorithm>

namespace landfall::app {
namespace fs = std::filesystem;
namespace {

constexpr const char* ending = ".lesson";
constexpr std::size_t most_bytes = 1U << 20U;

Result<LessonFile, std::string> read(const fs::path& path) {
  const auto file = read_file(path, most_bytes);
  if (!file.error.empty())
    return path.string() + ": " + file.error;
  auto lesson = practice::read_lesson(file.text, own_sets());
  if (!lesson)
    return located(path.string(), lesson.error());
  if (lesson->scenes.empty())
    return path.string() + ": there is no scene in it";
  return LessonFile{path, *std::move(lesson)};
}

/// `Five chords, one hand` as files are called: five-chords-one-hand.
std::string file_name_of(const std::string& title) {
  std::string name;
  for (const char c : title) {
    const auto byte = static_cast<unsigned char>(c);
    if (c >= 'A' && c <= 'Z')
      name += static_cast<char>(c - 'A' + 'a');
    else if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || byte >= 0x80)
      name += c;
    else if (c != '\'' && !name.empty() && name.back() != '-')
      name += '-';
  }
  while (name.ends_with('-'))
    name.pop_back();
  return name.empty() ? "lesson" : name.substr(0, 80);
}

ChoiceList::Item item_of(const fs::path& path, const fs::path& present) {
  ChoiceList::Item item;
  item.value = "lesson:" + path.string();
  item.chosen = path == present;
  const auto file = read(path);
  if (!file) {
    item.text = path.stem().string();
    item.detail = "cannot be read";
    item.preview = {file.error()};
    return item;
  }
  const auto& scenes = file->lesson.scenes;
  item.text = file->title();
  item.detail = std::to_string(scenes.size()) + (scenes.size() == 1 ? " scene" : " scenes");
  if (!file->lesson.about.empty())
    item.preview = {file->lesson.about, ""};
  for (std::size_t i = 0; i < scenes.size(); ++i)
    item.preview.push_back(std::to_string(i + 1) + "  " + scenes[i].name);
  return item;
}

void add_folder(ChoiceList& list, const fs::path& folder, const char* heading,
                const fs::path& present) {
  const auto files = files_in(folder, ending);
  if (!files.empty())
    list.items.push_back({heading, "", "", {}, false});
  for (const auto& path : files)
    list.items.push_back(item_of(path, present));
}

fs::path shipped_folder() {
  return songs_folder() / "lessons";
}

} // namespace

fs::path own_lessons_folder() {
  return user_data_folder() / "lessons";
}

bool is_own(const LessonFile& file) {
  return file.path.empty() || file.path.parent_path() == own_lessons_folder();
}

Result<LessonFile, std::string> load_lesson(const std::string& name) {
  if (name.ends_with(ending) || name.find('/') != std::string::npos)
    return read(name);
  std::error_code ignored;
  for (const auto& folder : {own_lessons_folder(), shipped_folder()})
    if (const auto path = folder / (name + ending); fs::exists(path, ignored))
      return read(path);
  return "there is no lesson '" + name + "'";
}

std::vector<fs::path> lesson_files() {
  auto files = files_in(own_lessons_folder(), ending);
  const auto shipped = files_in(shipped_folder(), ending);
  files.insert(files.end(), shipped.begin(), shipped.end());
  return files;
}

std::string write_lesson(LessonFile& file) {
  std::error_code failed;
  auto path = file.path;
  if (path.empty()) {
    const auto name = file_name_of(file.lesson.title);
    path = own_lessons_folder() / (name + ending);
    for (int number = 2; fs::exists(path, failed) && number < 1000; ++number)
      path = own_lessons_folder() / (name + "-" + std::to_string(number) + ending);
  }
  fs::create_directories(path.parent_path(), failed);
  if (failed)
    return failed.message();
  auto reason = write_file(path, as_text(file.lesson));
  if (reason.empty())
    file.path = path;
  return reason;
}

ChoiceList lesson_list(const fs::path& present) {
  ChoiceList list;
  list.title = "Lessons";
  list.has_query = true;
  if (!present.empty())
    list.items.push_back(
        {"Leave the lesson", "back to what was before", "lesson-leave", {}, false});
  add_folder(list, own_lessons_folder(), "Your own", present);
  add_folder(list, shipped_folder(), "Shipped", present);
  const auto chosen = std::find_if(list.items.begin(), list.items.end(),
                                   [](const auto& item) { return item.chosen; });
  if (chosen != list.items.end())
    list.selected = static_cast<int>(chosen - list.items.begin());
  list.move(0);
  return list;
}

} // namespace landfall::app
