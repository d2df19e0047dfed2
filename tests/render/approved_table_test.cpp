#include "render/approved_table.hpp"
#include "render/fake_metrics.hpp"
#include "render/layout.hpp"
#include "render/samples_at.hpp"

// Every page, in both themes and three sizes. LANDFALL_APPROVE=1 writes the table anew.

using namespace landfall::render;
using namespace checks;

namespace {

struct Setup {
  Size size;
  double text_scale;
};
constexpr Setup setups[] = {{{800, 450}, 1.5}, {{1280, 720}, 1.0}, {{1920, 1080}, 1.0}};

/// All samples, and some of them at more moments of a bar.
std::vector<samples::Named> pages() {
  std::vector<samples::Named> out = samples::all();
  for (const double moment : {0.0, 1.25, 3.984375}) {
    const std::string at = "-at-" + std::to_string(moment).substr(0, 4);
    out.push_back({"jam" + at, samples::jam(moment)});
    out.push_back({"keyboard" + at, samples::keyboard(moment)});
  }
  return out;
}

std::string name_of(const std::string& page, Theme theme, const Setup& setup) {
  return page + (theme == Theme::stage ? " stage " : " paper ") + std::to_string(setup.size.width) +
         "x" + std::to_string(setup.size.height) + " " +
         std::to_string(static_cast<int>(setup.text_scale * 100));
}

std::vector<TableRow> rows() {
  const FakeMetrics metrics;
  std::vector<samples::Named> all = pages();
  std::vector<TableRow> out;
  for (samples::Named& page : all)
    for (const Theme theme : {Theme::stage, Theme::paper})
      for (const Setup& setup : setups) {
        page.frame.theme = theme;
        page.frame.text_scale = setup.text_scale;
        out.emplace_back(name_of(page.name, theme, setup), layout(page.frame, setup.size, metrics));
      }
  return out;
}

} // namespace

TEST_CASE("the hash is FNV-1a") {
  CHECK(fnv1a("") == 0xCBF29CE484222325U);
  CHECK(fnv1a("a") == 0xAF63DC4C8601EC8CU);
  CHECK(fnv1a("foobar") == 0x85944171F73967E8U);
}

TEST_CASE("every page is drawn as approved, in both themes and three sizes") {
  const auto all = rows();
  CHECK(all.size() > 150);
  check_table(all, LANDFALL_SOURCE_DIR "/tests/render/approved/table.txt", LANDFALL_OUTPUT_DIR);
}
