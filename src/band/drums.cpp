#include "band/kit.hpp"
#include "band/parts.hpp"
#include "band/strikes.hpp"
#include "time/random.hpp"

#include <algorithm>

namespace landfall::band {
namespace {

constexpr theory::MidiNote kick{36};

class Drummer {
public:
  Drummer(const Chorus& chorus, const Harmony& harmony) : chorus_(chorus), harmony_(harmony) {}

  std::vector<Event> play() {
    events_.reserve(chorus_.bars.size() * 24);
    for (const auto& bar : chorus_.bars)
      play_bar(bar);
    mark_silences();
    return std::move(events_);
  }

private:
  void play_bar(const BarPlan& bar) {
    if (const auto* ending = ending_for(bar)) {
      play_rows(*ending, bar, rows_bars(*ending) - bar.left, bar.bar->start, end_of(bar));
      return;
    }
    const auto* fill = fill_for(bar);
    const Ticks from = fill == nullptr ? end_of(bar) : fill_start(*fill, bar);
    if (const auto* groove = groove_for(bar))
      play_rows(*groove, bar, bar.bar_in_phrase, bar.bar->start, from);
    if (fill != nullptr)
      play_rows(*fill, bar, 0, from, end_of(bar));
    if (bar.opens && bar.feel->opening && chorus_.level != Level::quiet)
      strike(*bar.feel->opening, bar.bar->start, chorus_.level == Level::full ? 'X' : 'x', bar);
  }

  static Ticks end_of(const BarPlan& bar) {
    return bar.bar->start + song::bar_length(bar.bar->meter);
  }

  static int rows_bars(const DrumPattern& pattern) {
    std::size_t most = 1;
    for (const auto& row : pattern.rows)
      most = std::max(most, row.cells.bars.size());
    return static_cast<int>(most);
  }

  const DrumPattern* ending_for(const BarPlan& bar) const {
    if (!chorus_.request.ending)
      return nullptr;
    const auto endings = suiting(bar.feel->drums, Role::ending, chorus_.level);
    return endings.empty() || bar.left > rows_bars(*endings.front()) ? nullptr : endings.front();
  }

  const DrumPattern* groove_for(const BarPlan& bar) const {
    const auto grooves = suiting(bar.feel->drums, Role::groove, chorus_.level);
    if (grooves.empty())
      return nullptr;
    const auto first = drawn({chorus_.request.seed, static_cast<std::uint64_t>(Part::drums),
                              static_cast<std::uint64_t>(bar.section),
                              static_cast<std::uint64_t>(bar.phrase / 2)});
    return grooves[(first + static_cast<std::size_t>(bar.round)) % grooves.size()];
  }

  /// Neighbouring fills differ, and so do those of one place in neighbouring choruses.
  const DrumPattern* fill_for(const BarPlan& bar) const {
    const auto fills = suiting(bar.feel->drums, Role::fill, chorus_.level);
    if (bar.fill < 0 || fills.empty())
      return nullptr;
    const auto count = fills.size();
    const std::size_t step = static_cast<std::size_t>(chorus_.fills - 1) % count == 1 ? 2 : 1;
    const auto first = drawn_below(count, {chorus_.request.seed, 77});
    const auto chorus = static_cast<std::size_t>(chorus_.fill_round) % count;
    return fills[(first + static_cast<std::size_t>(bar.fill) + step * chorus) % count];
  }

  static Ticks fill_start(const DrumPattern& fill, const BarPlan& bar) {
    const auto count = static_cast<int>(bar.pulses.size());
    const int beats = fill.beats >= bar.feel_beats ? count : std::min(fill.beats, count);
    return bar.bar->start + bar.pulses[static_cast<std::size_t>(count - beats)].start;
  }

  /// The cells of a pattern's rows that fall in [from, to).
  void play_rows(const DrumPattern& pattern, const BarPlan& bar, int index, Ticks from, Ticks to) {
    for (const auto& row : pattern.rows) {
      const auto& bars = row.cells.bars;
      lay(bars[static_cast<std::size_t>(index) % bars.size()], pattern.beats, bar,
          [&](Ticks at, Ticks, char letter) {
            if (letter != '.' && at >= from && at < to)
              strike(row.note, at, letter, bar);
          });
    }
  }

  void strike(theory::MidiNote note, Ticks at, char letter, const BarPlan& bar) {
    const auto* drum = find_drum(note);
    if (harmony_.at(at).chord == nullptr && drum != nullptr && !drum->time)
      return;
    const int rings = drum == nullptr ? 1 : drum->sixteenths;
    events_.push_back({at, sixteenth * rings, Part::drums, note,
                       velocity_of(letter, bar.feel->mix.drums, chorus_.request.intensity)});
  }

  /// Where the chords stop, one hit says so; what keeps time goes on.
  void mark_silences() {
    for (const auto& segment : harmony_.segments())
      if (segment.chord == nullptr)
        events_.push_back({segment.from, sixteenth, Part::drums, kick,
                           velocity_of('x', 100, chorus_.request.intensity)});
  }

  const Chorus& chorus_;
  const Harmony& harmony_;
  std::vector<Event> events_;
};

} // namespace

std::vector<Event> plan_drums(const Chorus& chorus, const Harmony& harmony) {
  return Drummer(chorus, harmony).play();
}

} // namespace landfall::band
