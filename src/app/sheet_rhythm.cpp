#include "app/sheet_rhythm.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace landfall::app::sheet {
namespace {

constexpr Ticks shortest{120}; ///< A gap of so much before the next note is not written.
constexpr Ticks grid{40};      ///< All written values are multiples of it.

const std::vector<NoteValue>& all_values() {
  static const auto values = [] {
    std::vector<NoteValue> all;
    for (const int part : {1, 2, 4, 8, 16, 32}) {
      all.push_back({part, 0, false});
      if (part < 32)
        all.push_back({part, 1, false});
      if (part >= 2 && part < 32)
        all.push_back({part, 0, true});
    }
    std::ranges::sort(all, std::ranges::greater{}, ticks_of);
    return all;
  }();
  return values;
}

Ticks nearest(Ticks tick, Ticks step) {
  return step * static_cast<int>(
                    std::lround(static_cast<double>(tick.count) / static_cast<double>(step.count)));
}

std::int64_t off(Ticks tick, Ticks step) {
  return std::abs((nearest(tick, step) - tick).count);
}

/// Where what was played is written. A beat is in triplets if its onsets lie nearer to these than
/// to sixteenths; ends follow their beat. In a phrase whose onsets lie on written values nearly
/// all, such ticks stay where they are.
class Grid {
public:
  explicit Grid(const trade::Phrase& phrase) {
    std::size_t exact = 0;
    std::map<std::int64_t, std::int64_t> leanings;
    for (const auto& note : phrase.notes) {
      exact += floor_mod(note.start, grid) == Ticks{} ? 1U : 0U;
      leanings[beat_of(note.start)] += off(note.start, sixteenth) - off(note.start, quarter / 3);
    }
    exact_ = exact * 4 >= phrase.notes.size() * 3;
    for (const auto& [beat, leaning] : leanings)
      if (leaning > 0)
        triplets_.insert(beat);
  }

  /// Whether it was written rather than played.
  bool exact() const { return exact_; }

  Ticks written(Ticks tick) const {
    if (exact_ && floor_mod(tick, grid) == Ticks{})
      return tick;
    return nearest(tick, triplets_.contains(beat_of(tick)) ? quarter / 3 : sixteenth);
  }

private:
  /// A little before a beat belongs to it.
  static std::int64_t beat_of(Ticks tick) { return floor_div(tick + quarter / 16, quarter); }

  bool exact_ = true;
  std::set<std::int64_t> triplets_;
};

struct Sounding {
  Ticks end;
  std::vector<std::size_t> notes;
};

/// What begins when, on the grid; each ends where the next begins.
std::map<Ticks, Sounding> onsets(const trade::Phrase& phrase) {
  const Grid lines(phrase);
  std::map<Ticks, Sounding> all;
  for (std::size_t i = 0; i < phrase.notes.size(); ++i) {
    const auto& note = phrase.notes[i];
    const auto at = lines.written(note.start);
    if (at >= phrase.length)
      continue;
    auto& sounding = all[at];
    sounding.notes.push_back(i);
    const auto end =
        lines.exact() ? lines.written(note.start + note.length) : note.start + note.length;
    sounding.end = std::max({sounding.end, end, at + shortest});
  }
  for (auto each = all.begin(); each != all.end(); ++each) {
    const auto next = std::next(each) == all.end() ? phrase.length : std::next(each)->first;
    const auto sounds = each->second.end - each->first, room = next - each->first;
    const bool let_go_early = !lines.exact() && sounds * 5 >= room * 3;
    if (each->second.end + shortest >= next || let_go_early)
      each->second.end = next;
    else
      each->second.end = std::max(lines.written(each->second.end), each->first + shortest);
  }
  return all;
}

/// Lays stretches into bars, cut at bar lines.
class BarWriter {
public:
  BarWriter(const trade::Phrase& phrase, Ticks begin)
      : bar_(song::bar_length(phrase.meter)), beat_(song::beat_length(phrase.meter)),
        compound_(song::compound(phrase.meter)) {
    for (auto at = bar_ * static_cast<int>(floor_div(begin, bar_)); at < phrase.length;
         at += bar_) {
      const auto start = std::max(at, begin);
      bars_.push_back({static_cast<int>(floor_div(at, bar_)) + 1, start, at + bar_ - start, {}});
    }
  }

  void add(Ticks at, Ticks end, const std::vector<std::size_t>& notes) {
    bool tied = false;
    while (at < end) {
      auto bar = std::ranges::find_if(
          bars_, [&](const TabBar& each) { return at < each.start + each.length; });
      if (bar == bars_.end())
        return;
      auto stop = std::min(end, bar->start + bar->length);
      const bool off_beat = floor_mod(at, beat_) != Ticks{};
      if ((notes.empty() && stop - at < bar_) || (compound_ && off_beat))
        stop = std::min(stop, beat_ * static_cast<int>(floor_div(at, beat_) + 1));
      for (const auto& value : values_of(stop - at)) {
        bar->beats.push_back({at, value, notes, tied});
        at += ticks_of(value);
        tied = !notes.empty();
      }
      at = stop;
    }
  }

  std::vector<TabBar> take() { return std::move(bars_); }

private:
  Ticks bar_, beat_;
  bool compound_; ///< Notes that begin off the beat are cut at the next one.
  std::vector<TabBar> bars_;
};

} // namespace

Ticks ticks_of(const NoteValue& value) {
  auto length = quarter * 4 / value.part;
  auto dot = length / 2;
  for (int i = 0; i < value.dots; ++i, dot = dot / 2)
    length += dot;
  return value.triplet ? length * 2 / 3 : length;
}

std::vector<NoteValue> values_of(Ticks length) {
  const auto& all = all_values();
  if (const auto one = std::ranges::find(all, length, ticks_of); one != all.end())
    return {*one};
  for (const auto& first : all)
    if (const auto second = std::ranges::find(all, length - ticks_of(first), ticks_of);
        second != all.end())
      return {first, *second};
  std::vector<NoteValue> values;
  for (const auto& value : all)
    while (!value.triplet && ticks_of(value) <= length) {
      values.push_back(value);
      length -= ticks_of(value);
    }
  return values;
}

std::vector<TabBar> written_bars(const trade::Phrase& phrase) {
  const auto sounding = onsets(phrase);
  auto at = sounding.empty() ? Ticks{} : std::min(Ticks{}, sounding.begin()->first);
  BarWriter writer(phrase, at);
  for (const auto& [start, each] : sounding) {
    writer.add(at, start, {});
    writer.add(start, each.end, each.notes);
    at = each.end;
  }
  writer.add(at, phrase.length, {});
  return writer.take();
}

} // namespace landfall::app::sheet
