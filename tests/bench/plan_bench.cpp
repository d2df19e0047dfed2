// Prints, as JSON, how long the band takes to plan a chorus of 48 bars at full level, by feel, in
// microseconds: the median of several.

#include "app/library.hpp"
#include "song/parser.hpp"
#include "song/unroll.hpp"

#include <algorithm>
#include <chrono>
#include <cstdio>

using namespace landfall;

namespace {

double median_micros(const band::Request& request, const band::FeelBook& feels) {
  std::vector<double> runs;
  for (int i = 0; i < 21; ++i) {
    const auto start = std::chrono::steady_clock::now();
    const auto events = band::plan_chorus(request, feels);
    const std::chrono::duration<double, std::micro> took = std::chrono::steady_clock::now() - start;
    if (!events.empty())
      runs.push_back(took.count());
  }
  std::nth_element(runs.begin(), runs.begin() + static_cast<std::ptrdiff_t>(runs.size() / 2),
                   runs.end());
  return runs[runs.size() / 2];
}

} // namespace

int main() {
  std::vector<std::string> problems;
  const auto feels = app::FeelFolder::load(problems);
  std::string bars = "Dm7 | G7 | Cmaj7 | A7 D7";
  for (int i = 1; i < 12; ++i)
    bars += " | Dm7 | G7 | Cmaj7 | A7 D7";
  const auto song = song::parse_progression(bars);
  if (!song)
    return 1;
  const char* separator = "{";
  for (const auto& name : feels->names()) {
    auto form = song::unroll(*song);
    for (auto& bar : form.bars)
      bar.feel = name;
    band::Request request;
    request.form = &form;
    request.next = &form;
    request.chorus = 1;
    request.intensity = 1.0;
    std::printf("%s\"%s\": %.0f", separator, name.c_str(), median_micros(request, *feels));
    separator = ", ";
  }
  std::printf("}\n");
}
