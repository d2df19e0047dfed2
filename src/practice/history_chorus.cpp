#include "practice/history_chorus.hpp"

#include "ear/judge.hpp"
#include "practice/hand.hpp"

#include <algorithm>
#include <limits>
#include <utility>

namespace landfall::practice {
namespace {

constexpr Ticks first_tick{std::numeric_limits<std::int64_t>::min()},
    last_tick{std::numeric_limits<std::int64_t>::max()};

ChorusRecord begun(const ChorusFacts& facts, const Choice& choice) {
  const auto home = home_of(*facts.instrument, choice.key, choice.place);
  ChorusRecord record;
  record.when = facts.when;
  record.cell = {choice.key, place_name(*facts.instrument, home), choice.set.name};
  record.over = choice.over;
  record.song = facts.song;
  record.target = choice.target.all() ? "" : target_text(choice.target);
  return record;
}

bool same_kind(const ChorusRecord& a, const ChorusRecord& b) {
  return a.cell == b.cell && a.over == b.over && a.target == b.target;
}

Seconds time_between(const Timeline& timeline, Ticks from, Ticks to) {
  Seconds sum{};
  while (from < to) {
    const auto next = timeline.tempo_after(from);
    const auto until = next ? std::min(next->first, to) : to;
    sum += duration_of(until - from, timeline.tempo_at(from));
    from = until;
  }
  return sum;
}

/// Where the last change's music ends: a bar later, but within its chorus.
Ticks end_after(const song::Performance& performance, Ticks change) {
  const auto moment = performance.at(change);
  if (!moment)
    return change;
  return std::min(change + bar_length(moment->bar->meter), moment->stretch->end());
}

/// Those before `until`, from `from` on.
std::vector<ear::JudgedNote> notes_between(std::span<const ear::JudgedNote> notes, Ticks from,
                                           Ticks until) {
  std::vector<ear::JudgedNote> some;
  std::copy_if(notes.begin(), notes.end(), std::back_inserter(some),
               [&](const auto& note) { return note.at >= from && note.at < until; });
  return some;
}

} // namespace

std::vector<ChorusRecord> records_of(const ChorusFacts& facts,
                                     std::span<const ear::JudgedChange> changes) {
  const auto& timeline = *facts.timeline;
  std::vector<ChorusRecord> records;
  auto timed_until = first_tick;
  for (std::size_t first = 0; first < changes.size();) {
    auto record = begun(facts, timeline.choice_at(changes[first].at));
    auto end = first + 1;
    while (end < changes.size() &&
           same_kind(record, begun(facts, timeline.choice_at(changes[end].at))))
      ++end;
    const auto group = changes.subspan(first, end - first);
    const auto until =
        end < changes.size() ? changes[end].at : end_after(timeline.performance, group.back().at);
    record.tempo = timeline.tempo_at(group.back().at);
    record.length = time_between(timeline, group.front().at, until);
    const auto timed_to = end < changes.size() ? until : last_tick;
    const auto notes = notes_between(facts.notes, std::exchange(timed_until, timed_to), timed_to);
    fill_in(record, group, ear::summary_of(group, notes));
    if (record.summary.rest < record.summary.changes)
      records.push_back(std::move(record));
    first = end;
  }
  return records;
}

} // namespace landfall::practice
