#include "band/strikes.hpp"

#include <algorithm>

namespace landfall::band {
namespace {

const std::vector<LinePattern>& patterns_of(const Feel& feel, Part part) {
  return part == Part::bass ? feel.bass : feel.comping;
}

bool pushes(char letter) {
  return letter == 'p' || letter == 'P';
}

const std::string& row_bar(const Row& row, int index) {
  return row.bars[static_cast<std::size_t>(index) % row.bars.size()];
}

/// Which bar of the pattern this is: endings are counted from the end.
int bar_of(const LinePattern& pattern, const BarPlan& bar) {
  if (pattern.role == Role::ending)
    return static_cast<int>(pattern.line.bars.size()) - bar.left;
  return bar.bar_in_phrase;
}

/// How hard, at the place of a cell of the line.
char touch_at(const LinePattern& pattern, int bar, std::size_t cell, std::size_t cells) {
  if (!pattern.touch)
    return 'x';
  const auto& touches = row_bar(*pattern.touch, bar);
  const char touch = touches[cell * touches.size() / cells];
  return touch == '.' ? 'x' : touch;
}

/// Gathers cells into strikes.
class Gatherer {
public:
  Gatherer(std::vector<Strike>& out, Part part) : out_(out), part_(part) {}

  void bar(const LinePattern& pattern, const BarPlan& where) {
    const int index = bar_of(pattern, where);
    new_pattern_ = &pattern != pattern_;
    pattern_ = &pattern;
    const auto& cells = row_bar(pattern.line, index);
    const auto in_beat = cells.size() / static_cast<std::size_t>(where.feel_beats);
    std::size_t count = 0;
    lay(cells, static_cast<int>(cells.size() / in_beat), where,
        [&](Ticks at, Ticks next_pulse, char letter) {
          const auto pulse = count / in_beat;
          const auto cell =
              static_cast<std::size_t>(where.beats[pulse]) * in_beat + count % in_beat;
          take(at, next_pulse, letter, touch_at(pattern, index, cell, cells.size()), where,
               count == 0);
          ++count;
        });
  }

  void close(Ticks end) {
    if (sounding_)
      out_.back().end = end;
    sounding_ = false;
  }

private:
  void take(Ticks at, Ticks next_pulse, char letter, char touch, const BarPlan& where, bool first) {
    if (letter == '-' && (sounding_ || !first))
      return;
    close(at);
    if (letter == '.')
      return;
    if (first && letter != '-' && new_pattern_)
      drop_push_to(at);
    const char struck = letter != '-' ? letter : part_ == Part::bass ? '1' : 'x';
    out_.push_back({at, at, pushes(letter) ? next_pulse : at, struck, touch, &where});
    sounding_ = true;
  }

  /// A push from another pattern into a bar that has its own first beat.
  void drop_push_to(Ticks at) {
    if (!out_.empty() && out_.back().at < at && out_.back().aim == at)
      out_.pop_back();
  }

  std::vector<Strike>& out_;
  Part part_;
  const LinePattern* pattern_ = nullptr;
  bool new_pattern_ = false;
  bool sounding_ = false;
};

/// The push that a pattern which opens with a hold wants before it: its own last one.
std::optional<Strike> push_into(const LinePattern& pattern, const BarPlan& first) {
  const auto count = static_cast<int>(pattern.line.bars.size());
  if (pattern.role != Role::groove || row_bar(pattern.line, first.bar_in_phrase).front() != '-')
    return std::nullopt;
  const auto& cells = row_bar(pattern.line, first.bar_in_phrase % count + count - 1);
  const int beats = first.feel_beats;
  const auto last = cells.find_last_of("pP");
  if (last == std::string::npos || cells.find_first_not_of('-', last + 1) != std::string::npos)
    return std::nullopt;
  std::optional<Strike> found;
  const Ticks bar = song::bar_length(first.bar->meter);
  lay(cells, beats, first, [&](Ticks at, Ticks next_pulse, char letter) {
    if (pushes(letter) && next_pulse - first.bar->start == bar)
      found = Strike{at - bar - first.bar->start, {0}, {0}, letter, 'x', &first};
  });
  return found;
}

/// A push into the top belongs to the next chorus; without one it sounds the present chord.
void lead_out(std::vector<Strike>& strikes, const Request& request) {
  const Ticks length = request.form->length;
  while (!strikes.empty() && strikes.back().aim >= length) {
    if (request.next == nullptr) {
      strikes.back().aim = strikes.back().at;
      break;
    }
    strikes.pop_back();
  }
}

void cut_at(std::vector<Strike>& strikes, Ticks end) {
  while (!strikes.empty() && strikes.back().at >= end)
    strikes.pop_back();
  if (!strikes.empty())
    strikes.back().end = std::min(strikes.back().end, end);
}

} // namespace

std::vector<Strike> strikes(const Chorus& chorus, Part part) {
  std::vector<Strike> result;
  result.reserve(chorus.bars.size() * 8);
  Gatherer gatherer(result, part);
  for (const auto& bar : chorus.bars) {
    const auto* pattern = chosen(chorus, patterns_of(*bar.feel, part), part, bar);
    if (pattern == nullptr)
      continue;
    if (&bar == &chorus.bars.front())
      if (const auto push = push_into(*pattern, bar))
        result.push_back(*push);
    gatherer.bar(*pattern, bar);
  }
  gatherer.close(chorus.request.form->length);
  lead_out(result, chorus.request);
  cut_at(result, part == Part::bass ? chorus.bass_end : chorus.comping_end);
  if (result.size() > 1 && result[0].at < Ticks{0} && result[1].at == Ticks{0}) {
    result[0].end = result[1].end;
    result.erase(result.begin() + 1);
  }
  return result;
}

Ticks push_before_top(const Request& next, const FeelBook& feels, Part part) {
  const auto bar = first_bar(next, feels);
  const Chorus chorus{next, {}, 0, 0, level_of(next.intensity), {}, {}};
  const auto* pattern = chosen(chorus, patterns_of(*bar.feel, part), part, bar);
  const auto push = pattern == nullptr ? std::nullopt : push_into(*pattern, bar);
  return push ? push->at : Ticks{0};
}

} // namespace landfall::band
