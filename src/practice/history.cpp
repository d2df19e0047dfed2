#include "practice/history.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>

namespace landfall::practice {
namespace {

constexpr std::string_view from_fret = "fret ", from_key = "from ";
constexpr double fading_memory = 0.9; ///< Of a chorus against the one after it.

void add(CellHistory& cell, const ChorusRecord& record, double& landed, double& played) {
  Landings fresh;
  fresh.add(record.summary);
  landed = landed * fading_memory + fresh.landed;
  played = played * fading_memory + fresh.played;
  ++cell.choruses;
  cell.length += record.length;
  cell.landings.add(record.summary);
  cell.recent_rate = (landed + 1) / (played + 2);
  cell.over = record.over;
  cell.song = record.song;
  cell.tempo = record.tempo;
  cell.last = record.when;
}

void add(std::vector<Span>& spans, std::chrono::sys_days from, const ChorusRecord& record) {
  if (spans.empty() || spans.back().from != from)
    spans.push_back({from, {}, {}});
  spans.back().length += record.length;
  spans.back().landings.add(record.summary);
}

std::chrono::sys_days monday_of(std::chrono::sys_days day) {
  return day - (std::chrono::weekday(day) - std::chrono::Monday);
}

std::vector<const ChorusRecord*> by_time(std::span<const ChorusRecord> records) {
  std::vector<const ChorusRecord*> sorted;
  for (const auto& record : records)
    sorted.push_back(&record);
  std::stable_sort(sorted.begin(), sorted.end(),
                   [](const auto* a, const auto* b) { return a->when < b->when; });
  return sorted;
}

} // namespace

bool operator<(const Cell& a, const Cell& b) {
  return std::tie(a.key, a.place, a.set) < std::tie(b.key, b.place, b.set);
}

std::string place_words(const std::string& place) {
  return place.size() == 1 ? place + " shape" : place;
}

std::string cell_words(const Cell& cell) {
  const bool fits = cell.set == "fitting";
  return ascii(cell.key) + ", " + place_words(cell.place) + ", " +
         (fits ? "what suits each chord" : cell.set);
}

std::string place_name(const neck::Instrument& instrument, const neck::Position& home) {
  if (instrument.kind == neck::Instrument::Kind::keyboard)
    return std::string(from_key) + std::to_string(home.low);
  return home.shape ? std::string(1, home.shape->name)
                    : std::string(from_fret) + std::to_string(home.low);
}

neck::PlaceRequest place_request(const std::string& place) {
  if (place.size() == 1 && neck::find_shape(place.front()) != nullptr)
    return {place.front(), std::nullopt};
  for (const auto head : {from_key, from_fret}) {
    int number = 0;
    if (place.starts_with(head) &&
        std::from_chars(place.data() + head.size(), place.data() + place.size(), number).ec ==
            std::errc{})
      return {std::nullopt, number};
  }
  return {};
}

void fill_in(ChorusRecord& record, std::span<const ear::JudgedChange> changes,
             const ear::Summary& summary) {
  record.summary = summary;
  for (const auto& change : changes) {
    record.changes.push_back({change.bar, change.beat, ascii(change.chord), change.verdict,
                              change.degree, change.own_word});
    record.own_words += change.own_word ? 1 : 0;
  }
}

void Landings::add(const ear::Summary& summary) {
  played += summary.landed + summary.late + summary.off;
  landed += summary.landed;
}

Landings History::landings() const {
  Landings all;
  for (const auto& cell : cells) {
    all.played += cell.landings.played;
    all.landed += cell.landings.landed;
  }
  return all;
}

const CellHistory* History::find(const Cell& cell) const {
  const auto found = std::find_if(cells.begin(), cells.end(),
                                  [&](const auto& known) { return known.cell == cell; });
  return found == cells.end() ? nullptr : &*found;
}

History history_of(std::span<const ChorusRecord> records, std::chrono::minutes east) {
  struct Sum {
    CellHistory cell;
    double landed = 0, played = 0;
  };
  std::map<Cell, Sum> sums;
  History history;
  for (const auto* record : by_time(records)) {
    auto& sum = sums[record->cell];
    sum.cell.cell = record->cell;
    add(sum.cell, *record, sum.landed, sum.played);
    ++history.choruses;
    history.length += record->length;
    for (const auto& [number, count] : record->summary.by_degree) {
      history.by_degree[number].landed += count.landed;
      history.by_degree[number].late += count.late;
    }
    const auto day = std::chrono::floor<std::chrono::days>(record->when + east);
    add(history.days, day, *record);
    add(history.weeks, monday_of(day), *record);
  }
  for (auto& [cell, sum] : sums)
    history.cells.push_back(std::move(sum.cell));
  return history;
}

} // namespace landfall::practice
