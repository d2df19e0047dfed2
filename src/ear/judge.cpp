#include "ear/judge.hpp"

#include "ear/judge_change.hpp"
#include "ear/note_class.hpp"
#include "ear/sounding.hpp"
#include "ear/timing.hpp"
#include "ear/window.hpp"

#include <algorithm>
#include <cmath>

namespace landfall::ear {
namespace {

constexpr std::size_t notes_before = 24; ///< More than any change looks back.

/// The notes that a change may depend on: some from before its window, and all up to its end.
std::span<const HeardNote> notes_for(const Ground& ground, const Change& change,
                                     std::span<const HeardNote> notes, const Settings& settings) {
  const auto from = std::ranges::lower_bound(notes, change.at - quarter * 2, {}, &HeardNote::on);
  const auto to = std::ranges::lower_bound(from, notes.end(), final_at(ground, change, settings),
                                           {}, &HeardNote::on);
  const auto before = std::min<std::ptrdiff_t>(from - notes.begin(), notes_before);
  return {from - before, to};
}

JudgedNote judged_note(const Ground& ground, const HeardNote& note, NoteClass note_class,
                       std::optional<double> deviation) {
  const auto pitch = main_pitch(note, ground.tempo.tempo_at(note.on));
  const double cents = (pitch.midi - note.midi) * 100.0 + pitch.cents;
  return {note.on, note.midi, cents, note_class, deviation, in_position(ground, note)};
}

std::vector<JudgedNote> judged_notes(const Ground& ground, const Line& line,
                                     const Settings& settings,
                                     std::span<const std::optional<double>> deviations) {
  const auto classes = classes_of(ground, line, settings);
  std::vector<JudgedNote> result;
  result.reserve(classes.size());
  for (std::size_t strike = 0; strike < line.size(); ++strike)
    for (const auto index : line.notes_of(strike))
      result.push_back(judged_note(ground, line.note(index), classes[result.size()],
                                   settings.timing ? deviations[strike] : std::nullopt));
  return result;
}

/// The mean of what is there, and its standard deviation.
void add_timing(Summary& summary, std::span<const std::optional<double>> deviations) {
  double sum = 0.0, squares = 0.0;
  int counted = 0;
  for (const auto& deviation : deviations)
    if (deviation) {
      sum += *deviation;
      squares += *deviation * *deviation;
      ++counted;
    }
  if (counted == 0)
    return;
  const double mean = sum / counted;
  summary.deviation_mean_ms = mean;
  summary.deviation_sd_ms = std::sqrt(std::max(0.0, squares / counted - mean * mean));
}

void add(Summary& summary, const JudgedChange& change) {
  ++summary.changes;
  ++(change.verdict == Verdict::landed ? summary.landed
     : change.verdict == Verdict::late ? summary.late
     : change.verdict == Verdict::off  ? summary.off
                                       : summary.rest);
  if (!change.degree)
    return;
  auto& count = summary.by_degree[folded(*change.degree).number];
  ++(change.verdict == Verdict::landed ? count.landed : count.late);
}

} // namespace

std::optional<bool> in_position(const Ground& ground, const HeardNote& note) {
  const auto* span = ground.span_at(note.on);
  const auto fret = fret_of(ground, note);
  if (span == nullptr || !fret)
    return std::nullopt;
  return *fret >= span->lowest_fret && *fret <= span->highest_fret;
}

bool is_decided(const Ground& ground, std::size_t index, std::span<const HeardNote> notes,
                const Settings& settings, Ticks now) {
  const auto& change = ground.changes[index];
  if (now < soonest_final(ground, change))
    return false;
  return !asks(ground, change) || now >= final_at(ground, change, settings) ||
         lands_at_once(ground, index, notes_for(ground, change, notes, settings), settings);
}

Judgement judge(const Ground& ground, std::span<const HeardNote> notes, const Settings& settings,
                std::optional<Ticks> until) {
  Judgement judgement;
  for (std::size_t i = 0; i < ground.changes.size(); ++i) {
    const auto& change = ground.changes[i];
    if (until && !is_decided(ground, i, notes, settings, *until))
      break;
    if (asks(ground, change))
      judgement.changes.push_back(
          judge_change(ground, i, notes_for(ground, change, notes, settings), settings));
  }
  const auto end =
      until ? std::ranges::lower_bound(notes, *until, {}, &HeardNote::on) : notes.end();
  const Line line(ground, {notes.begin(), end}, settings);
  judgement.notes = judged_notes(ground, line, settings, deviations_ms(ground, line));
  judgement.summary = summary_of(judgement.changes, judgement.notes);
  return judgement;
}

std::vector<std::span<const JudgedChange>> by_chorus(std::span<const JudgedChange> changes) {
  std::vector<std::span<const JudgedChange>> choruses;
  while (!changes.empty()) {
    const auto next = std::ranges::find_if(changes, [&](const JudgedChange& change) {
      return change.chorus != changes.front().chorus;
    });
    choruses.push_back(changes.first(static_cast<std::size_t>(next - changes.begin())));
    changes = changes.subspan(choruses.back().size());
  }
  return choruses;
}

Summary summary_of(std::span<const JudgedChange> changes, std::span<const JudgedNote> notes) {
  Summary summary;
  for (const auto& change : changes)
    add(summary, change);
  std::vector<std::optional<double>> deviations;
  for (const auto& note : notes)
    deviations.push_back(note.deviation_ms);
  add_timing(summary, deviations);
  return summary;
}

std::size_t LiveJudge::advance(const Ground& ground, std::span<const HeardNote> notes, Ticks now) {
  const auto before = changes_.size();
  for (; next_ < ground.changes.size() && is_decided(ground, next_, notes, settings_, now);
       ++next_) {
    const auto& change = ground.changes[next_];
    if (asks(ground, change))
      changes_.push_back(
          judge_change(ground, next_, notes_for(ground, change, notes, settings_), settings_));
  }
  return changes_.size() - before;
}

void LiveJudge::clear() {
  changes_.clear();
  next_ = 0;
}

} // namespace landfall::ear
