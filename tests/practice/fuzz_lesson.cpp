// Lesson files from arbitrary bytes: a clear error, or a lesson that is written and read again.

#include "practice/lesson.hpp"

#include <cstdint>
#include <cstdlib>

using namespace landfall;

namespace {

void require(bool holds) {
  if (!holds)
    std::abort();
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  const auto lesson = practice::read_lesson(text, {});
  if (!lesson) {
    require(!lesson.error().reason.empty());
    require(lesson.error().line >= 1 && lesson.error().column >= 1);
    return 0;
  }
  const auto written = as_text(*lesson);
  const auto again = practice::read_lesson(written, {});
  require(again && as_text(*again) == written);
  practice::whole_scene(*lesson, lesson->scenes.size() - 1);
  return 0;
}
