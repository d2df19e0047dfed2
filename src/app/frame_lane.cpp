#include "app/frame_builder.hpp"

#include <algorithm>
#include <cmath>

namespace landfall::app {
namespace {

constexpr Ticks shown_before = quarter * 12; ///< What of the past may still be in the window.
constexpr Ticks shown_after = quarter * 64;

/// Quarter notes from the present moment.
double beats_from(double now, Ticks tick) {
  return (static_cast<double>(tick.count) - now) / static_cast<double>(ticks_per_quarter);
}

double beats(Ticks length) {
  return beats_from(0.0, length);
}

render::VerdictMark mark_of(ear::Verdict verdict) {
  return verdict == ear::Verdict::landed ? render::VerdictMark::landed
         : verdict == ear::Verdict::late ? render::VerdictMark::late
                                         : render::VerdictMark::other;
}

/// What was landed on, else what was held.
std::string degree_words(const ear::JudgedChange& judged) {
  const auto degree = judged.degree ? judged.degree : judged.held;
  return degree ? render::with_signs(ascii(*degree)) : "";
}

class LaneBuilder {
public:
  LaneBuilder(const FrameInput& input, double now)
      : input_(input), timeline_(*input.snapshot.timeline), now_(now),
        present_(timeline_.performance.at({static_cast<std::int64_t>(std::max(now, 0.0))})),
        here_{static_cast<std::int64_t>(std::max(now, 0.0))} {}

  render::Lane build() {
    add_count_in();
    for (const auto& stretch : timeline_.performance.stretches())
      if (stretch.end() > here_ - shown_before && stretch.start < here_ + shown_after)
        add(stretch);
    mark_present_chord();
    add_trace();
    add_verdicts();
    if (most_in_bar_ > 2)
      lane_.zoom = 1.5; // room for the chords of a busy bar
    return std::move(lane_);
  }

private:
  void add_count_in() {
    const auto& meter = input_.snapshot.song->meter;
    if (!input_.snapshot.transport.rolling || now_ >= static_cast<double>(shown_before.count))
      return;
    for (auto at = -timeline_.count_in; at < Ticks{}; at += bar_length(meter)) {
      render::LaneBar bar;
      bar.beat = beats_from(now_, at);
      bar.length = beats(bar_length(meter));
      bar.pulses = beats_in_bar(meter);
      bar.count_in = true;
      lane_.bars.push_back(bar);
    }
  }

  void add(const song::Stretch& stretch) {
    for (const auto& bar : stretch.form->bars) {
      const auto end = bar.start + bar_length(bar.meter);
      const auto at = stretch.start + (std::max(bar.start, stretch.from) - stretch.from);
      const bool played = end > stretch.from && bar.start < stretch.to;
      if (played && at > here_ - shown_before && at < here_ + shown_after)
        add_bar(stretch, bar, at);
    }
  }

  void add_bar(const song::Stretch& stretch, const song::Bar& bar, Ticks at) {
    const auto begin = std::max(bar.start, stretch.from);
    const auto end = std::min(bar.start + bar_length(bar.meter), stretch.to);
    const bool is_present = present_ && present_->stretch->start == stretch.start &&
                            present_->bar->number == bar.number;
    render::LaneBar shown;
    shown.beat = beats_from(now_, at);
    shown.length = beats(end - begin);
    shown.pulses =
        std::max<int>(1, static_cast<int>((end - begin).count / beat_length(bar.meter).count));
    if (bar.section_start)
      shown.section = bar.section;
    shown.number = is_present ? bar_words(*present_) : std::to_string(bar.number);
    shown.space = bar.space;
    shown.form_begins = bar.number == 1;
    shown.tag = static_cast<std::uint32_t>(bar.number);
    mark_loop(shown, bar.number, at);
    lane_.bars.push_back(shown);
    most_in_bar_ = std::max(most_in_bar_, bar.chords.size());
    for (const auto& change : bar.chords)
      if (bar.start + change.at >= begin && bar.start + change.at < end)
        lane_.chords.push_back({beats_from(now_, at + (bar.start + change.at - begin)),
                                chord_text(change.chord), false});
  }

  void mark_loop(render::LaneBar& shown, int number, Ticks at) const {
    const auto loop = input_.snapshot.transport.rolling ? timeline_.choice_at(at).loop
                                                        : input_.snapshot.choice.loop;
    if (!loop)
      return;
    const auto [first, last] = std::minmax(loop->first, loop->last);
    shown.in_loop = number >= first && number <= last;
    shown.loop_opens = number == first;
    shown.loop_closes = number == last;
  }

  void mark_present_chord() {
    render::LaneChord* last = nullptr;
    for (auto& chord : lane_.chords)
      if (chord.beat <= 1e-9)
        last = &chord;
    if (last != nullptr)
      last->present = true;
  }

  void add_trace() {
    for (const auto& note : input_.played) {
      render::TraceNote trace;
      trace.from = beats_from(now_, note.from);
      trace.to = note.to ? std::min(beats_from(now_, *note.to), 0.0) : 0.0;
      trace.height = std::clamp((note.midi - 36) / 60.0, 0.0, 1.0);
      trace.landed = note.landed;
      if (trace.to > -beats(shown_before) && trace.to > trace.from)
        lane_.trace.push_back(trace);
    }
  }

  void add_verdicts() {
    for (const auto& judged : input_.judged)
      if (judged.at > here_ - shown_before && judged.verdict != ear::Verdict::rest)
        lane_.verdicts.push_back(
            {beats_from(now_, judged.at), mark_of(judged.verdict), degree_words(judged)});
  }

  const FrameInput& input_;
  const practice::Timeline& timeline_;
  double now_;
  std::optional<song::Moment> present_;
  Ticks here_;
  render::Lane lane_;
  std::size_t most_in_bar_ = 0;
};

} // namespace

render::Lane build_lane(const FrameInput& input, double tick) {
  return LaneBuilder(input, tick).build();
}

} // namespace landfall::app
