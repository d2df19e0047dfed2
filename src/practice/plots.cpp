#include "practice/plots.hpp"

#include <algorithm>
#include <set>

namespace landfall::practice {
namespace {

/// Fourths above C, and minor keys after major ones.
int circle(const theory::Key& key) {
  return pitch_class(key.tonic) * 5 % 12 + (key.minor ? 12 : 0);
}

/// Shapes by their letters, then frets by their numbers.
std::tuple<std::size_t, std::size_t, std::string> place_order(const std::string& place) {
  constexpr std::string_view shapes = "CAGED";
  const auto at = place.size() == 1 ? shapes.find(place) : std::string_view::npos;
  return {std::min(at, shapes.size()), place.size(), place};
}

std::vector<Span> filled(const std::vector<Span>& known, std::chrono::sys_days last,
                         std::chrono::days step, int count) {
  std::vector<Span> spans;
  for (int back = count - 1; back >= 0; --back) {
    const auto from = last - step * back;
    const auto found = std::find_if(known.begin(), known.end(),
                                    [&](const auto& span) { return span.from == from; });
    spans.push_back(found == known.end() ? Span{from, {}, {}} : *found);
  }
  return spans;
}

} // namespace

const Landings* HeatMap::at(const theory::Key& key, const std::string& place) const {
  const auto found = cells.find({key, place});
  return found == cells.end() ? nullptr : &found->second;
}

int HeatMap::most_played() const {
  int most = 1;
  for (const auto& [where, landings] : cells)
    most = std::max(most, landings.played);
  return most;
}

HeatMap heat_map(const History& history) {
  HeatMap map;
  std::set<std::pair<int, theory::Key>> keys;
  std::map<decltype(place_order("")), std::string> names;
  for (const auto& cell : history.cells) {
    keys.insert({circle(cell.cell.key), cell.cell.key});
    names[place_order(cell.cell.place)] = cell.cell.place;
    auto& sum = map.cells[{cell.cell.key, cell.cell.place}];
    sum.played += cell.landings.played;
    sum.landed += cell.landings.landed;
  }
  for (const auto& [at, key] : keys)
    map.keys.push_back(key);
  for (const auto& [at, name] : names)
    map.places.push_back(name);
  return map;
}

std::vector<Span> last_days(const History& history, std::chrono::sys_days today, int count) {
  return filled(history.days, today, std::chrono::days{1}, count);
}

std::vector<Span> last_weeks(const History& history, std::chrono::sys_days today, int count) {
  const auto monday = today - (std::chrono::weekday(today) - std::chrono::Monday);
  return filled(history.weeks, monday, std::chrono::days{7}, count);
}

} // namespace landfall::practice
