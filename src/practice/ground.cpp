#include "practice/ground.hpp"

#include "neck/target.hpp"
#include "neck/tones.hpp"
#include "neck/view.hpp"
#include "practice/hand.hpp"

#include <algorithm>

namespace landfall::practice {
namespace {

constexpr int reminder_bars = 4; ///< As song::changes() has them.

bool same_tones(const std::optional<theory::Chord>& a, const std::optional<theory::Chord>& b) {
  return a.has_value() == b.has_value() && (!a || theory::same_tones(*a, *b));
}

/// Whether a command alters what spans hold.
bool cuts(const Command& command) {
  return std::holds_alternative<SetKey>(command) || std::holds_alternative<SetPlace>(command) ||
         std::holds_alternative<SetNotes>(command) || std::holds_alternative<SetTarget>(command) ||
         std::holds_alternative<SetFeel>(command);
}

neck::PitchClasses pitch_classes(const theory::RootedSet& set) {
  return neck::pitch_classes(set.notes);
}

/// What hand and reach cover.
void cover(ear::Span& span, const neck::Instrument& instrument, const neck::Position& hand) {
  if (instrument.kind == neck::Instrument::Kind::keyboard) {
    span.lowest_fret = std::max(hand.low - instrument.reach, 0);
    span.highest_fret = std::min(hand.high + instrument.reach, 127);
    for (int midi = span.lowest_fret; midi <= span.highest_fret; ++midi)
      span.reachable.set(static_cast<std::size_t>(midi));
    return;
  }
  const neck::Fretboard board(instrument);
  const auto under = board.under(hand.low);
  span.lowest_fret = under.below.last >= under.below.first ? under.below.first : under.hand.first;
  span.highest_fret = under.above.last >= under.above.first ? under.above.last : under.hand.last;
  for (int string = 0; string < board.count; ++string)
    for (int fret = span.lowest_fret; fret <= span.highest_fret; ++fret)
      if (const auto pitch = board.pitch(string, fret))
        span.reachable.set(static_cast<std::size_t>(*pitch));
}

/// The note of the guide-tone line over one of the form's chords.
std::optional<neck::NeckNote> line_note(const neck::Setting& setting, const song::Form& form,
                                        const song::ChordAt& chord) {
  std::vector<std::optional<theory::Chord>> chords;
  std::size_t index = 0;
  for (const auto& bar : form.bars)
    for (const auto& each : bar.chords) {
      if (&each == &chord)
        index = chords.size();
      chords.push_back(each.chord);
    }
  return neck::guide_line(setting, chords).at(index);
}

neck::PitchClasses aimed_classes(const neck::Target& target, const neck::Setting& setting,
                                 const song::Form& form, const song::ChordAt& chord) {
  const auto all = neck::pitch_classes(*chord.chord);
  if (target.all())
    return all;
  neck::PitchClasses aimed = 0;
  const auto add = [&](int pitch) {
    aimed = static_cast<neck::PitchClasses>(aimed | 1U << static_cast<unsigned>(pitch % 12));
  };
  if (target.guide_line) {
    const auto note = line_note(setting, form, chord);
    return note ? (add(note->midi.number), aimed) : all;
  }
  for (const auto degree : chord.chord->degrees)
    if (neck::aims_at(target, degree))
      add(pitch_class(note_at(chord.chord->root, degree)));
  return aimed;
}

double swing_of(const band::FeelBook* feels, const std::string& name) {
  const auto* feel = feels == nullptr ? nullptr : feels->find(name);
  return feel == nullptr || feel->swing.sixteenths ? 0.5 : feel->swing.share / 1000.0;
}

bool same_but_end(const ear::Span& a, const ear::Span& b) {
  return a.chord == b.chord && a.set == b.set && a.aimed == b.aimed && a.reachable == b.reachable &&
         a.lowest_fret == b.lowest_fret && a.highest_fret == b.highest_fret && a.bar == b.bar &&
         a.beat == b.beat && a.swing == b.swing;
}

} // namespace

GroundBuilder::GroundBuilder(Given given) : given_(given) {
  const auto& instrument = *given.instrument;
  if (instrument.kind == neck::Instrument::Kind::keyboard)
    return;
  const neck::Fretboard board(instrument);
  for (int string = board.count - 1; string >= 0; --string)
    ground_.open_strings.push_back(board.pitch(string, 0).value_or(-1000));
}

void GroundBuilder::extend(const Timeline& timeline, Ticks until) {
  extend_tempo(timeline, until);
  for (const auto& stretch : timeline.performance.stretches())
    if (stretch.end() > done_ && stretch.start < until)
      add_stretch(timeline, stretch, until);
  done_ = std::max(done_, std::min(until, timeline.performance.end()));
}

void GroundBuilder::extend_tempo(const Timeline& timeline, Ticks until) {
  if (!tempo_done_) {
    ground_.tempo = song::TempoMap(timeline.tempo_at(Ticks{}));
    tempo_done_ = Ticks{};
  }
  for (auto next = timeline.tempi.upper_bound(*tempo_done_);
       next != timeline.tempi.end() && next->first < until; ++next) {
    ground_.tempo.change(next->first, next->second);
    tempo_done_ = next->first;
  }
}

void GroundBuilder::add_stretch(const Timeline& timeline, const song::Stretch& stretch,
                                Ticks until) {
  const auto performed = [&](Ticks form_tick) {
    return stretch.start + (form_tick - stretch.from);
  };
  for (const auto& bar : stretch.form->bars)
    for (std::size_t i = 0; i < bar.chords.size(); ++i) {
      const auto ends = i + 1 < bar.chords.size() ? bar.start + bar.chords[i + 1].at
                                                  : bar.start + bar_length(bar.meter);
      const auto from = performed(std::max(bar.start + bar.chords[i].at, stretch.from));
      const auto to = std::min(performed(std::min(ends, stretch.to)), until);
      if (to > std::max(from, done_))
        add_chord(timeline, stretch, bar, bar.chords[i], from, to);
    }
}

void GroundBuilder::add_chord(const Timeline& timeline, const song::Stretch& stretch,
                              const song::Bar& bar, const song::ChordAt& chord, Ticks from,
                              Ticks to) {
  const bool begins = from >= done_;
  std::vector<Ticks> cuts_at{std::max(from, done_)};
  for (const auto& applied : timeline.applied)
    if (applied.at > cuts_at.front() && applied.at < to && cuts(applied.command))
      cuts_at.push_back(applied.at);
  std::sort(cuts_at.begin(), cuts_at.end());
  cuts_at.push_back(to);
  for (std::size_t i = 0; i + 1 < cuts_at.size(); ++i) {
    if (cuts_at[i] == cuts_at[i + 1])
      continue;
    auto span = span_of(timeline.choice_at(cuts_at[i]), stretch, bar, chord);
    span.from = cuts_at[i];
    span.to = cuts_at[i + 1];
    const auto spans = ground_.spans.size();
    add_span(std::move(span));
    if (begins && i == 0 && (ground_.spans.size() > spans || !any_before_))
      add_change(stretch, bar, chord, from);
  }
}

void GroundBuilder::add_change(const song::Stretch& stretch, const song::Bar& bar,
                               const song::ChordAt& chord, Ticks at) {
  const auto bar_start = ground_.spans.back().bar;
  const bool opens_bar = bar_before_ != bar_start;
  if (opens_bar)
    ++bars_since_;
  bar_before_ = bar_start;
  const bool at_bar = at == bar_start;
  const bool top = bar.number == 1 && at_bar;
  const bool fresh = !any_before_ || !same_tones(chord_before_, chord.chord);
  const bool reminder = at_bar && opens_bar && bars_since_ == reminder_bars;
  chord_before_ = chord.chord;
  any_before_ = true;
  if (!fresh && !top && !reminder)
    return;
  bars_since_ = 0;
  if (!chord.chord)
    return;
  ear::Change change;
  change.at = at;
  change.chorus = stretch.chorus;
  change.bar = bar.number;
  change.beat = 1.0 + static_cast<double>((at - bar_start).count) /
                          static_cast<double>(beat_length(bar.meter).count);
  change.span = ground_.spans.size() - 1;
  change.space = bar.space;
  ground_.changes.push_back(change);
}

void GroundBuilder::add_span(ear::Span span) {
  if (!ground_.spans.empty() && ground_.spans.back().to == span.from &&
      same_but_end(ground_.spans.back(), span))
    ground_.spans.back().to = span.to;
  else
    ground_.spans.push_back(std::move(span));
}

ear::Span GroundBuilder::span_of(const Choice& choice, const song::Stretch& stretch,
                                 const song::Bar& bar, const song::ChordAt& chord) const {
  neck::Setting setting;
  setting.instrument = given_.instrument;
  setting.key = choice.key;
  setting.set = choice.set;
  setting.over = choice.over;
  setting.fitting = given_.fitting;
  setting.home = home_of(*given_.instrument, choice.key, choice.place);
  const auto line_setting = setting;
  setting = in_key(std::move(setting), bar.key);
  ear::Span span;
  span.chord = chord.chord;
  span.set = pitch_classes(
      theory::resolved(setting.set, setting.over, setting.key, chord.chord,
                       given_.fitting == nullptr ? theory::default_fitting() : *given_.fitting));
  if (chord.chord)
    span.aimed = aimed_classes(choice.target, line_setting, *stretch.form, chord);
  cover(span, *given_.instrument, neck::view(setting, chord.chord, {false, false, 0}).hand);
  span.bar = stretch.start + (bar.start - stretch.from);
  span.beat = beat_length(bar.meter);
  span.swing = swing_of(given_.feels, choice.feel.empty() ? bar.feel : choice.feel);
  return span;
}

ear::Ground ground_of(const Timeline& timeline, const GroundBuilder::Given& given, Ticks until) {
  GroundBuilder builder(given);
  builder.extend(timeline, until);
  return builder.ground();
}

} // namespace landfall::practice
