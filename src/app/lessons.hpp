#pragma once

#include "app/lists.hpp"
#include "practice/lesson.hpp"

#include <filesystem>

namespace landfall::app {

/// A lesson and its file.
struct LessonFile {
  std::filesystem::path path; ///< Empty while it was never saved.
  practice::Lesson lesson;

  /// As the window remembers it: the file's name without its ending.
  std::string name() const { return path.stem().string(); }
  /// The title, else the file's name.
  std::string title() const { return lesson.title.empty() ? name() : lesson.title; }
};

/// Where the player's own lessons lie.
std::filesystem::path own_lessons_folder();

/// Whether a lesson may be changed here: it is the player's own.
bool is_own(const LessonFile& file);

/// Finds and reads a lesson: a path, or an own or shipped one's file name without its ending. The
/// error is one line with the file and, where it has one, line and column.
Result<LessonFile, std::string> load_lesson(const std::string& name);

/// All lessons that can be named, own ones first, by file name.
std::vector<std::filesystem::path> lesson_files();

/// Writes an own lesson, to a file named after its title where it has none yet; the reason for a
/// failure, or an empty text.
std::string write_lesson(LessonFile& file);

/// `lesson:PATH` for each, its scenes as a preview; `lesson-leave` first if one is open (`present`
/// not empty).
ChoiceList lesson_list(const std::filesystem::path& present);

} // namespace landfall::app
