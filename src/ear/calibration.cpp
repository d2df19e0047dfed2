#include "ear/calibration.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <vector>

namespace landfall::ear {
namespace {

constexpr std::size_t fewest_taps = 6;
constexpr std::size_t most_extra = 2;
constexpr std::size_t fewest_on_string = 3;
constexpr Nanoseconds together{40'000'000}; ///< Notes of one chord, or of one tap heard twice.
constexpr Nanoseconds widest_spread{20'000'000};
constexpr Nanoseconds earliest{-80'000'000}, latest{200'000'000};
constexpr Nanoseconds least_spread{1'000'000}; ///< That is told.
constexpr Nanoseconds notable{3'000'000};

Nanoseconds median(std::vector<Nanoseconds> values) {
  std::sort(values.begin(), values.end());
  const auto middle = values.size() / 2;
  return values.size() % 2 == 1 ? values[middle] : (values[middle - 1] + values[middle]) / 2;
}

Nanoseconds distance(Nanoseconds a, Nanoseconds b) {
  return a < b ? b - a : a - b;
}

/// The median distance from `centre`.
Nanoseconds spread_around(Nanoseconds centre, const std::vector<Nanoseconds>& values) {
  std::vector<Nanoseconds> distances;
  distances.reserve(values.size());
  for (const auto value : values)
    distances.push_back(distance(value, centre));
  return median(std::move(distances));
}

std::string ms(Nanoseconds time) {
  return std::to_string(std::llround(std::abs(static_cast<double>(time.count())) / 1e6)) + " ms";
}

/// What answered the clicks, as offsets from them.
struct Answers {
  std::vector<Nanoseconds> offsets;
  std::vector<Tap> taps; ///< The same, with `at` an offset.
  std::size_t extra = 0; ///< Notes that belong to no click.
};

/// A click owns what lies from a quarter of the interval before it to three quarters after: latency
/// is on one side.
Answers answers_of(std::span<const Tap> taps, Nanoseconds interval) {
  std::vector<Tap> rising(taps.begin(), taps.end());
  std::stable_sort(rising.begin(), rising.end(),
                   [](const Tap& a, const Tap& b) { return a.at < b.at; });
  Answers answers;
  for (int click = 0; click < calibration_clicks; ++click) {
    const auto at = interval * click;
    const Tap* best = nullptr;
    std::vector<Nanoseconds> inside;
    for (const auto& tap : rising) {
      if (tap.at < at - interval / 4 || tap.at >= at + interval * 3 / 4)
        continue;
      inside.push_back(tap.at);
      if (best == nullptr || distance(tap.at, at) < distance(best->at, at))
        best = &tap;
    }
    if (best == nullptr)
      continue;
    answers.offsets.push_back(best->at - at);
    answers.taps.push_back({best->at - at, best->string});
    for (const auto other : inside)
      answers.extra += distance(other, best->at) > together ? 1 : 0;
  }
  return answers;
}

std::optional<std::string> why_not(const Answers& answers) {
  if (answers.offsets.empty())
    return "no note came in";
  if (answers.offsets.size() < fewest_taps)
    return "only " + std::to_string(answers.offsets.size()) + " of the " +
           std::to_string(calibration_clicks) + " clicks had a note: play one on each";
  if (answers.extra > most_extra)
    return "there were notes between the clicks: play one short note on each";
  return std::nullopt;
}

std::map<int, Nanoseconds> by_string(const std::vector<Tap>& taps, Nanoseconds offset) {
  std::map<int, std::vector<Nanoseconds>> offsets;
  for (const auto& tap : taps)
    if (tap.string)
      offsets[*tap.string].push_back(tap.at);
  std::map<int, Nanoseconds> late;
  for (auto& [string, values] : offsets)
    if (values.size() >= fewest_on_string)
      late[string] = median(std::move(values)) - offset;
  return late;
}

} // namespace

Result<Calibration, std::string> calibrate(std::span<const Tap> taps, Nanoseconds interval) {
  const auto answers = answers_of(taps, interval);
  if (const auto reason = why_not(answers))
    return *reason;
  Calibration calibration;
  calibration.offset = median(answers.offsets);
  calibration.spread = spread_around(calibration.offset, answers.offsets);
  calibration.taps = static_cast<int>(answers.offsets.size());
  if (calibration.offset < earliest || calibration.offset > latest)
    return ms(calibration.offset) + (calibration.offset < earliest ? " before" : " after") +
           " the clicks is too far: play with them";
  if (calibration.spread > widest_spread)
    return "the notes lay " + ms(calibration.spread) + " apart from each other: try again, evenly";
  calibration.strings = by_string(answers.taps, calibration.offset);
  calibration.only_string = std::ranges::all_of(answers.taps, [&](const Tap& tap) {
    return tap.string && tap.string == answers.taps.front().string;
  });
  return calibration;
}

std::string calibration_words(const Calibration& calibration) {
  auto words = ms(calibration.offset) + (calibration.offset < Nanoseconds{} ? " early" : " late") +
               ", within " + ms(std::max(calibration.spread, least_spread));
  for (const auto& [string, late] : calibration.strings)
    if (late >= notable || late <= -notable)
      words += "; string " + std::to_string(string) +
               (late > Nanoseconds{} ? " another " : " less by ") + ms(late);
  return words;
}

} // namespace landfall::ear
