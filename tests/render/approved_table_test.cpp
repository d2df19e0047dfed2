#include "render/fake_metrics.hpp"
#include "render/layout.hpp"
#include "render/samples_at.hpp"

#include <doctest/doctest.h>

#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <map>
#include <sstream>

// A line for each page, theme, size and text scale in approved/table.txt: the number of draw
// commands and the FNV-1a hash (64 bits) of their dump. Where a line differs, the whole dump is
// written to the build folder. LANDFALL_APPROVE=1 writes the table anew.

using namespace landfall::render;

namespace {

const std::string table = std::string(LANDFALL_SOURCE_DIR) + "/tests/render/approved/table.txt";

std::uint64_t fnv1a(std::string_view bytes) {
  std::uint64_t hash = 0xCBF29CE484222325U;
  for (const char c : bytes)
    hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001B3U;
  return hash;
}

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

std::string counted(const std::string& dumped, std::size_t commands) {
  char words[64];
  std::snprintf(words, sizeof words, "%zu %016llx", commands,
                static_cast<unsigned long long>(fnv1a(dumped)));
  return words;
}

/// Name and what is drawn, in the order of the table.
struct Row {
  std::string name, dumped, counted;
};

std::vector<Row> rows() {
  const FakeMetrics metrics;
  std::vector<Row> out;
  for (const samples::Named& page : pages())
    for (const Theme theme : {Theme::stage, Theme::paper})
      for (const Setup& setup : setups) {
        Frame frame = page.frame;
        frame.theme = theme;
        frame.text_scale = setup.text_scale;
        const DrawList list = layout(frame, setup.size, metrics);
        const std::string dumped = dump(list);
        out.push_back(
            {name_of(page.name, theme, setup), dumped, counted(dumped, list.commands.size())});
      }
  return out;
}

/// By name: what follows the four words of a line.
std::map<std::string, std::string> approved_rows() {
  std::map<std::string, std::string> out;
  std::ifstream file(table);
  for (std::string line; std::getline(file, line);) {
    std::size_t at = 0;
    for (int word = 0; word < 4 && at != std::string::npos; ++word)
      at = line.find(' ', at == 0 ? 0 : at + 1);
    if (at != std::string::npos)
      out[line.substr(0, at)] = line.substr(at + 1);
  }
  return out;
}

/// Where the dump of a line that differs lies.
std::string kept(const Row& row) {
  std::string name = row.name;
  std::replace(name.begin(), name.end(), ' ', '-');
  const std::string path = LANDFALL_OUTPUT_DIR "/" + name + ".txt";
  std::ofstream(path) << row.dumped;
  return path;
}

} // namespace

TEST_CASE("the hash is FNV-1a") {
  CHECK(fnv1a("") == 0xCBF29CE484222325U);
  CHECK(fnv1a("a") == 0xAF63DC4C8601EC8CU);
  CHECK(fnv1a("foobar") == 0x85944171F73967E8U);
}

TEST_CASE("every page is drawn as approved, in both themes and three sizes") {
  if (std::getenv("LANDFALL_APPROVE") != nullptr) {
    std::ofstream file(table);
    for (const Row& row : rows())
      file << row.name << ' ' << row.counted << '\n';
  }
  auto approved = approved_rows();
  CHECK(approved.size() > 150);
  for (const Row& row : rows()) {
    const bool same = approved[row.name] == row.counted;
    INFO(row.name << " differs; what is drawn now: " << (same ? "" : kept(row)));
    CHECK(same);
    approved.erase(row.name);
  }
  CHECK(approved.empty()); // a page that is gone
}
