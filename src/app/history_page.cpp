#include "app/history_page.hpp"

#include "app/history_file.hpp"
#include "app/history_text.hpp"
#include "app/words.hpp"
#include "ear/words.hpp"
#include "practice/plots.hpp"

#include <algorithm>

namespace landfall::app {
namespace {

constexpr int weeks_shown = 16, days_shown = 28;

double share(int part, int whole) {
  return whole == 0 ? 0.0 : static_cast<double>(part) / whole;
}

std::string key_name(theory::Key key) {
  return render::with_signs(ascii(key));
}

std::string date_words(std::chrono::sys_days day) {
  constexpr std::array months{"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                              "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
  const std::chrono::year_month_day date(day);
  return std::to_string(static_cast<unsigned>(date.day())) + " " +
         months[static_cast<unsigned>(date.month()) - 1];
}

render::HistoryMap map_of(const practice::History& history) {
  const auto map = practice::heat_map(history);
  render::HistoryMap shown;
  for (const auto& key : map.keys)
    shown.columns.push_back(key_name(key));
  for (const auto& place : map.places)
    shown.rows.push_back(practice::place_words(place));
  for (const auto& place : map.places)
    for (const auto& key : map.keys) {
      const auto* cell = map.at(key, place);
      auto& spot = shown.spots.emplace_back();
      if (cell == nullptr)
        continue;
      spot.amount = share(cell->played, map.most_played());
      spot.landed = share(cell->landed, cell->played);
      spot.label = std::to_string(cell->landed) + " of " + std::to_string(cell->played);
    }
  return shown;
}

std::vector<render::HistoryBar> degrees_of(const practice::History& history) {
  int most = 1;
  for (const auto& [degree, count] : history.by_degree)
    most = std::max(most, count.landed);
  std::vector<render::HistoryBar> bars;
  for (const auto& [degree, count] : history.by_degree)
    bars.push_back(
        {ear::plural_of(degree), share(count.landed, most), std::to_string(count.landed)});
  return bars;
}

std::vector<render::HistoryBar> weeks_of(const practice::History& history,
                                         std::chrono::sys_days today) {
  std::vector<render::HistoryBar> bars;
  for (const auto& week : practice::last_weeks(history, today, weeks_shown))
    bars.push_back({date_words(week.from), share(week.landings.landed, week.landings.played), ""});
  return bars;
}

std::vector<render::HistoryBar> days_of(const practice::History& history,
                                        std::chrono::sys_days today) {
  std::vector<render::HistoryBar> bars;
  double longest = 0;
  const auto days = practice::last_days(history, today, days_shown);
  for (const auto& day : days)
    longest = std::max(longest, day.length.count());
  for (const auto& day : days)
    bars.push_back({date_words(day.from), longest > 0 ? day.length.count() / longest : 0.0, ""});
  return bars;
}

} // namespace

render::HistoryPage history_page(const practice::History& history, std::chrono::sys_days today) {
  render::HistoryPage page;
  page.title = "What you practised";
  if (history.empty()) {
    page.subtitle = "Nothing yet: play a chorus over the changes, and it is kept here.";
    return page;
  }
  const auto landings = history.landings();
  page.subtitle = length_words(history.length) + " · " + landings_words(landings);
  page.map = map_of(history);
  page.degrees = degrees_of(history);
  page.weeks = weeks_of(history, today);
  page.days = days_of(history, today);
  double longest = 0;
  for (const auto& day : practice::last_days(history, today, days_shown))
    longest = std::max(longest, day.length.count());
  page.longest_day = "the longest: " + length_words(practice::Minutes{longest});
  return page;
}

void HistoryView::show(FrameInput& input) {
  if (auto history = keeper_.history(); history != shown_) {
    shown_ = std::move(history);
    page_ = history_page(*shown_, today());
  }
  input.page = page_;
}

} // namespace landfall::app
