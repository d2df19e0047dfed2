#include "ear/judge.hpp"

#include "ear/note_class.hpp"
#include "ear/timing.hpp"

#include <algorithm>
#include <cmath>

namespace landfall::ear {
namespace {

constexpr std::size_t notes_before = 24; ///< More than any change looks back.

/// The notes that a change may depend on: some from before its window, and all up to its end.
std::span<const HeardNote> notes_for(const Ground& ground, const Change& change,
                                     std::span<const HeardNote> notes) {
  const auto by_onset = [](const HeardNote& note, Ticks at) { return note.on < at; };
  const auto from = std::lower_bound(notes.begin(), notes.end(), change.at - quarter * 2, by_onset);
  const auto to = std::lower_bound(from, notes.end(), final_at(ground, change), by_onset);
  const auto before = std::min<std::ptrdiff_t>(from - notes.begin(), notes_before);
  return {from - before, to};
}

JudgedChange judged(const Ground& ground, std::size_t index, std::span<const HeardNote> notes,
                    const Settings& settings) {
  return judge_change(ground, index, notes_for(ground, ground.changes[index], notes), settings);
}

std::vector<JudgedNote> judged_notes(const Ground& ground, std::span<const HeardNote> notes,
                                     const Settings& settings) {
  std::vector<HeardNote> heard;
  for (const auto& note : notes) {
    const auto tempo = ground.tempo.tempo_at(note.on);
    const bool ghost = note.off && note.velocity < settings.ghost_velocity &&
                       *note.off - note.on < ticks_of_ms(settings.shortest_ms, tempo);
    if (!ghost && (!settings.split || note.midi >= *settings.split))
      heard.push_back(note);
  }
  const auto classes = classes_of(ground, heard, settings);
  const auto deviations = deviations_ms(ground, heard);
  std::vector<JudgedNote> result;
  for (std::size_t i = 0; i < heard.size(); ++i) {
    const auto pitch = pitches_of(heard[i], i, ground.tempo.tempo_at(heard[i].on)).front();
    result.push_back({heard[i].on, heard[i].midi,
                      (pitch.midi - heard[i].midi) * 100.0 + pitch.cents, classes[i], deviations[i],
                      in_position(ground, heard[i])});
  }
  return result;
}

} // namespace

std::optional<bool> in_position(const Ground& ground, const HeardNote& note) {
  const auto* span = ground.span_at(note.on);
  if (span == nullptr || !note.string || *note.string < 1 ||
      static_cast<std::size_t>(*note.string) > ground.open_strings.size())
    return std::nullopt;
  const int fret = note.midi - ground.open_strings[static_cast<std::size_t>(*note.string - 1)];
  return fret >= span->lowest_fret && fret <= span->highest_fret;
}

Judgement judge(const Ground& ground, std::span<const HeardNote> notes, const Settings& settings,
                Ticks until) {
  Judgement judgement;
  for (std::size_t i = 0; i < ground.changes.size(); ++i)
    if (!ground.changes[i].space && final_at(ground, ground.changes[i]) <= until)
      judgement.changes.push_back(judged(ground, i, notes, settings));
  const auto end = std::lower_bound(notes.begin(), notes.end(), until,
                                    [](const auto& note, Ticks at) { return note.on < at; });
  judgement.notes = judged_notes(ground, {notes.begin(), end}, settings);
  judgement.summary = summary_of(judgement.changes, judgement.notes);
  return judgement;
}

Summary summary_of(std::span<const JudgedChange> changes, std::span<const JudgedNote> notes) {
  Summary summary;
  for (const auto& change : changes) {
    ++summary.changes;
    ++(change.verdict == Verdict::landed ? summary.landed
       : change.verdict == Verdict::late ? summary.late
       : change.verdict == Verdict::off  ? summary.off
                                         : summary.rest);
    if (!change.degree)
      continue;
    auto& count = summary.by_degree[folded(*change.degree).number];
    ++(change.verdict == Verdict::landed ? count.landed : count.late);
  }
  double sum = 0.0, squares = 0.0;
  int counted = 0;
  for (const auto& note : notes)
    if (note.deviation_ms) {
      sum += *note.deviation_ms;
      squares += *note.deviation_ms * *note.deviation_ms;
      ++counted;
    }
  if (counted == 0)
    return summary;
  summary.deviation_mean_ms = sum / counted;
  summary.deviation_sd_ms = std::sqrt(
      std::max(0.0, squares / counted - *summary.deviation_mean_ms * *summary.deviation_mean_ms));
  return summary;
}

std::size_t LiveJudge::advance(const Ground& ground, std::span<const HeardNote> notes, Ticks now) {
  const auto before = changes_.size();
  for (; next_ < ground.changes.size() && final_at(ground, ground.changes[next_]) <= now; ++next_)
    if (!ground.changes[next_].space)
      changes_.push_back(judged(ground, next_, notes, settings_));
  return changes_.size() - before;
}

void LiveJudge::clear() {
  changes_.clear();
  next_ = 0;
}

} // namespace landfall::ear
