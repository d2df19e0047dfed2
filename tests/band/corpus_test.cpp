#include "band/fixture.hpp"

#include <doctest/doctest.h>

#include <filesystem>

using namespace landfall;
using namespace landfall::band;
using band::testing::form_of;
using band::testing::request_for;

namespace {

std::vector<std::string> files_in(const std::string& folder) {
  std::vector<std::string> result;
  const auto top = std::filesystem::path(LANDFALL_SOURCE_DIR) / folder;
  for (const auto& entry : std::filesystem::directory_iterator(top))
    result.push_back(folder + "/" + entry.path().filename().string());
  return result;
}

} // namespace

TEST_CASE("every good file is read and can be played") {
  const auto files = files_in("tests/band/corpus/good");
  CHECK(files.size() >= 10);
  for (const auto& file : files) {
    CAPTURE(file);
    const auto feel = parse_feel(band::testing::read_source(file));
    REQUIRE_MESSAGE(feel, (feel ? "" : feel.error().reason));
    band::testing::Book book;
    book.add(*feel);
    for (const song::Meter meter : {feel->meter, song::Meter{4, 4}, song::Meter{7, 8}}) {
      const auto form = form_of("A | D7 | Em7b5 | A/C#", "A", feel->name, meter);
      for (const auto& event : plan_chorus(request_for(form), book)) {
        CHECK(event.length > Ticks{0});
        CHECK(event.at + event.length <= form.length);
      }
    }
  }
}

TEST_CASE("every bad file gives one clear line") {
  const auto files = files_in("tests/band/corpus/bad");
  CHECK(files.size() >= 15);
  for (const auto& file : files) {
    CAPTURE(file);
    const auto feel = parse_feel(band::testing::read_source(file));
    REQUIRE_FALSE(feel);
    const auto& reason = feel.error().reason;
    CHECK_FALSE(reason.empty());
    for (const char c : reason)
      CHECK((c >= ' ' && c <= '~'));
  }
}
