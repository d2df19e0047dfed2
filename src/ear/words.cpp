#include "ear/words.hpp"

#include "ear/judge.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace landfall::ear {
namespace {

constexpr double on_the_beat_ms = 7.0;
constexpr int few_notes = 8;

} // namespace

std::string plural_of(int degree_number) {
  constexpr std::array names{"roots",  "seconds", "thirds",  "fourths",
                             "fifths", "sixths",  "sevenths"};
  return names[static_cast<std::size_t>((degree_number + 6) % 7)];
}

std::string summary_words(const Summary& summary) {
  const int played = summary.landed + summary.late + summary.off;
  if (played == 0)
    return "";
  auto words = "landed " + std::to_string(summary.landed) + " of " + std::to_string(played);
  std::vector<std::pair<int, int>> degrees; ///< Most first.
  for (const auto& [number, count] : summary.by_degree)
    if (count.landed > 0)
      degrees.emplace_back(-count.landed, number);
  std::sort(degrees.begin(), degrees.end());
  const char* separator = " · ";
  for (const auto& [count, number] : degrees) {
    words += separator + plural_of(number) + " " + std::to_string(-count);
    separator = ", ";
  }
  if (summary.late > 0)
    words += " · " + std::to_string(summary.late) + " late";
  return words;
}

std::string changes_words(std::span<const JudgedChange> changes) {
  auto words = summary_words(summary_of(changes, {}));
  return words.empty() ? "nothing played at the changes" : words;
}

std::string timing_words(const Summary& summary, int notes) {
  if (!summary.deviation_mean_ms || notes < few_notes)
    return "";
  const double mean = *summary.deviation_mean_ms;
  if (std::abs(mean) < on_the_beat_ms)
    return "on the beat";
  return "mostly " + std::to_string(std::lround(std::abs(mean))) + " ms " +
         (mean > 0 ? "behind" : "ahead");
}

} // namespace landfall::ear
