#include "app/board_moment.hpp"

#include "app/song_view.hpp"

#include <algorithm>
#include <bit>
#include <cmath>

namespace landfall::app {
namespace {

practice::Choice choice_at(const Snapshot& snapshot, Ticks tick) {
  return snapshot.transport.rolling ? snapshot.timeline->choice_at(tick) : snapshot.choice;
}

/// The note of the guide-tone line over the chord at a tick, if the target asks for the line.
std::optional<neck::NeckNote> line_note(const song::Performance& performance, Ticks tick,
                                        const neck::Setting& setting, const neck::Target& target) {
  const auto moment = performance.at(tick);
  if (!target.guide_line || !moment)
    return std::nullopt;
  const SongView views(*moment->stretch->form, setting, target);
  const auto& chord = chord_at(*moment->stretch->form, moment->form_tick);
  const auto notes = views.landing(*moment->bar, chord);
  return notes.empty() ? std::nullopt : std::optional(notes.front());
}

/// Arcs sweep over the bar before the change, or over the present chord if that is shorter.
std::optional<double> arc_at(const song::Performance& performance, const PresentChord& chords,
                             double tick) {
  const auto last = performance.at(chords.to - Ticks{1});
  if (!last)
    return std::nullopt;
  const auto lead = std::min(bar_length(last->bar->meter), chords.to - chords.from);
  const double left = static_cast<double>(chords.to.count) - tick;
  if (lead <= Ticks{} || left > static_cast<double>(lead.count))
    return std::nullopt;
  return std::clamp(1.0 - left / static_cast<double>(lead.count), 0.0, 1.0);
}

/// How many pitch classes of a grip are none of the chord's.
int foreign_tones(const neck::Fretboard& board, const neck::Grip& grip,
                  const theory::Chord& chord) {
  neck::PitchClasses foreign = 0;
  for (int string = 0; string < board.count; ++string)
    if (const auto fret = grip.frets[static_cast<std::size_t>(string)])
      foreign = static_cast<neck::PitchClasses>(foreign | 1U << *board.pitch(string, *fret) % 12);
  return std::popcount(static_cast<unsigned>(foreign & ~neck::pitch_classes(chord)));
}

/// The movable sevenths beside the chord's shape, those that suit the chord best first, then what
/// else is within reach.
std::vector<neck::Grip> other_grips(const BoardMoment& moment, const neck::Fretboard& board) {
  std::vector<neck::Grip> grips;
  if (moment.view.chord_shape)
    grips = neck::seventh_grips(board, *moment.view.chord_shape, moment.chords.chord->root);
  std::stable_sort(grips.begin(), grips.end(), [&](const auto& a, const auto& b) {
    return foreign_tones(board, a, *moment.chords.chord) <
           foreign_tones(board, b, *moment.chords.chord);
  });
  grips.insert(grips.end(), moment.view.grips.begin(), moment.view.grips.end());
  return grips;
}

std::optional<neck::Grip> grip_shown(const BoardMoment& moment, const Look& look) {
  if (!moment.chords.chord)
    return std::nullopt;
  const neck::Fretboard board(*moment.setting.instrument);
  if (look.grip_number > 0) {
    const auto grips = other_grips(moment, board);
    if (!grips.empty())
      return grips[static_cast<std::size_t>(look.grip_number - 1) % grips.size()];
  }
  if (!look.grip || !moment.view.chord_shape)
    return std::nullopt;
  const auto shape = *moment.view.chord_shape;
  const auto row = neck::shape_grip(board, shape, neck::ChordTones(*moment.chords.chord));
  return neck::grip_of(board, row,
                       ascii(*moment.chords.chord) +
                           (shape.name == 'A' || shape.name == 'E' ? " as an " : " as a ") +
                           shape.name + " shape");
}

} // namespace

neck::Setting setting_at(const FrameInput& input, double tick) {
  const Ticks at{static_cast<std::int64_t>(std::max(std::floor(tick), 0.0))};
  return setting_of(*input.instrument, choice_at(input.snapshot, at));
}

PlaceKey key_of(const neck::NeckNote& note) {
  return {note.string, note.fret.value_or(note.midi.number)};
}

BoardMoment board_moment(const FrameInput& input, double tick,
                         const std::optional<neck::Position>& home) {
  const auto& snapshot = input.snapshot;
  const auto& performance = snapshot.timeline->performance;
  const Ticks at{static_cast<std::int64_t>(std::max(std::floor(tick), 0.0))};
  const auto setting_then = [&](Ticks then) {
    auto setting = setting_of(*input.instrument, choice_at(snapshot, then));
    setting.home = home.value_or(setting.home);
    return setting;
  };
  BoardMoment moment;
  moment.fading = input.fading;
  moment.chords = present_chord(performance, at);
  const auto setting = setting_then(at);
  const auto target = choice_at(snapshot, at).target;
  moment.setting = in_key(setting, moment.chords.key);
  const neck::ViewOptions options{input.look.groups > 0, input.look.grip_number > 0, 10};
  moment.view = neck::view(moment.setting, moment.chords.chord, options);
  neck::aim(moment.view.notes, target, line_note(performance, at, setting, target));
  moment.grip = grip_shown(moment, input.look);
  if (!snapshot.transport.rolling)
    return moment;
  moment.arc = arc_at(performance, moment.chords, std::max(tick, 0.0));
  if (!moment.arc || !moment.chords.next)
    return moment;
  const auto next = setting_then(moment.chords.to);
  moment.coming = neck::landing(in_key(next, moment.chords.next_key), moment.chords.next);
  neck::aim(moment.coming, target, line_note(performance, moment.chords.to, next, target));
  std::erase_if(moment.coming, [](const auto& note) { return note.role != neck::Role::landing; });
  return moment;
}

} // namespace landfall::app
