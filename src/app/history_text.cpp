#include "app/history_text.hpp"

#include "app/history_file.hpp"
#include "ear/words.hpp"
#include "practice/plots.hpp"

#include <algorithm>
#include <cmath>

namespace landfall::app {
namespace {

using practice::History;

std::string padded(const std::string& text, std::size_t width, bool right = false) {
  const auto room = width - std::min(width, text.size());
  return right ? std::string(room, ' ') + text : text + std::string(room, ' ');
}

std::string degree_lines(const History& history) {
  int all = 0, most = 1;
  for (const auto& [degree, count] : history.by_degree) {
    all += count.landed;
    most = std::max(most, count.landed);
  }
  std::string text = "What you land on, of " + std::to_string(all) + "\n";
  for (const auto& [degree, count] : history.by_degree) {
    const auto bar = static_cast<std::size_t>(40 * count.landed / most);
    text += "  " + padded(ear::plural_of(degree), 10) +
            padded(std::to_string(count.landed), 6, true) + "  " + std::string(bar, '=') + "\n";
  }
  return text;
}

std::string map_lines(const History& history) {
  const auto map = practice::heat_map(history);
  std::string text = "Key by place, landed of played\n  " + std::string(6, ' ');
  for (const auto& place : map.places)
    text += padded(practice::place_words(place), 14);
  text += "\n";
  for (const auto& key : map.keys) {
    text += "  " + padded(ascii(key), 6);
    for (const auto& place : map.places) {
      const auto* cell = map.at(key, place);
      text += padded(cell == nullptr
                         ? "."
                         : std::to_string(cell->landed) + " of " + std::to_string(cell->played),
                     14);
    }
    text += "\n";
  }
  return text;
}

std::string weak_lines(const History& history) {
  std::vector<const practice::CellHistory*> cells;
  for (const auto& cell : history.cells)
    if (cell.landings.played > 0)
      cells.push_back(&cell);
  std::stable_sort(cells.begin(), cells.end(),
                   [](const auto* a, const auto* b) { return a->recent_rate < b->recent_rate; });
  if (cells.empty())
    return "";
  std::string text = "Weakest of late\n";
  for (std::size_t i = 0; i < std::min<std::size_t>(3, cells.size()); ++i)
    text += "  " + cell_words(cells[i]->cell) + ": " + landings_words(cells[i]->landings) + "\n";
  return text;
}

std::string next_lines(const HistoryReport& report) {
  std::string text = "What next\n";
  for (std::size_t i = 0; i < report.next.size(); ++i) {
    const auto& next = report.next[i];
    text += "  " + cell_words(next.cell);
    if (!next.song.empty())
      text += ", " + next.song + " at " + std::to_string(report.beats[i]);
    text += ": " + next.why + "\n";
  }
  return text;
}

double tenths(double value) {
  return std::round(value * 10) / 10;
}

std::string decimal(double value) {
  auto text = std::to_string(tenths(value));
  return text.erase(text.find('.') + 2);
}

std::string quoted(const std::string& text) {
  if (text.find_first_of(",\"\n\r") == std::string::npos)
    return text;
  std::string safe = "\"";
  for (const char c : text)
    safe += c == '"' ? "\"\"" : std::string(1, c);
  return safe + "\"";
}

std::string optional_text(const std::optional<double>& value) {
  return value ? decimal(*value) : "";
}

} // namespace

std::string landings_words(const practice::Landings& landings) {
  return "landed " + std::to_string(landings.landed) + " of " + std::to_string(landings.played);
}

std::string length_words(practice::Minutes length) {
  const auto minutes = static_cast<int>(std::lround(length.count()));
  const auto plural = [](int count, const std::string& name) {
    return std::to_string(count) + " " + name + (count == 1 ? "" : "s");
  };
  if (minutes == 0)
    return "under a minute";
  if (minutes < 60)
    return plural(minutes, "minute");
  return plural(minutes / 60, "hour") +
         (minutes % 60 == 0 ? "" : " " + plural(minutes % 60, "minute"));
}

std::string history_text(const HistoryReport& report) {
  const auto& history = report.history;
  if (history.empty())
    return "Nothing practised yet: play a chorus in the window, and it is kept here.\n\n" +
           next_lines(report);
  const auto choruses = history.choruses == 1
                            ? std::string(" in one chorus")
                            : " in " + std::to_string(history.choruses) + " choruses";
  std::string text =
      length_words(history.length) + choruses + ", " + landings_words(history.landings()) + "\n\n";
  if (!history.by_degree.empty())
    text += degree_lines(history) + "\n";
  text += map_lines(history) + "\n";
  if (const auto weak = weak_lines(history); !weak.empty())
    text += weak + "\n";
  return text + next_lines(report);
}

nlohmann::ordered_json history_json(const HistoryReport& report) {
  using Json = nlohmann::ordered_json;
  auto cells = Json::array(), next = Json::array();
  auto by_degree = Json::object();
  for (const auto& cell : report.history.cells)
    cells.push_back({{"key", ascii(cell.cell.key)},
                     {"shape", cell.cell.place},
                     {"set", cell.cell.set},
                     {"changes", cell.landings.played},
                     {"landed", cell.landings.landed},
                     {"last", iso_text(cell.last)}});
  for (const auto& [degree, count] : report.history.by_degree)
    by_degree[std::to_string(degree)] = {{"landed", count.landed}, {"late", count.late}};
  for (std::size_t i = 0; i < report.next.size(); ++i)
    next.push_back({{"key", ascii(report.next[i].cell.key)},
                    {"shape", report.next[i].cell.place},
                    {"set", report.next[i].cell.set},
                    {"song", report.next[i].song},
                    {"tempo", report.beats[i]},
                    {"why", report.next[i].why}});
  return {{"minutes", tenths(report.history.length.count())},
          {"choruses", report.history.choruses},
          {"cells", cells},
          {"by_degree", by_degree},
          {"next", next}};
}

std::string history_csv(std::span<const practice::ChorusRecord> records) {
  std::string text = "when,key,place,set,over,song,quarters_per_minute,target,seconds,changes,"
                     "landed,late,off,rest,own_words,deviation_mean_ms,deviation_sd_ms\n";
  for (const auto& record : records) {
    const auto& sums = record.summary;
    const std::vector<std::string> fields{iso_text(record.when),
                                          ascii(record.cell.key),
                                          record.cell.place,
                                          record.cell.set,
                                          record.over == theory::Over::key ? "key" : "chord",
                                          record.song,
                                          decimal(bpm(record.tempo)),
                                          record.target,
                                          decimal(record.length.count()),
                                          std::to_string(sums.changes),
                                          std::to_string(sums.landed),
                                          std::to_string(sums.late),
                                          std::to_string(sums.off),
                                          std::to_string(sums.rest),
                                          std::to_string(record.own_words),
                                          optional_text(sums.deviation_mean_ms),
                                          optional_text(sums.deviation_sd_ms)};
    for (const auto& field : fields)
      text += (&field == fields.data() ? "" : ",") + quoted(field);
    text += "\n";
  }
  return text;
}

} // namespace landfall::app
