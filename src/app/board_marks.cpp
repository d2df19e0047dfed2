#include "app/board_moment.hpp"

#include <algorithm>
#include <map>

namespace landfall::app {
namespace {

render::Role role_of(const neck::NeckNote& note, const Look& look, bool has_chord) {
  const auto set = look.set_notes ? render::Role::set : render::Role::none;
  switch (has_chord ? note.role : neck::Role::set) {
  case neck::Role::landing:
    return look.landing ? render::Role::landing : set;
  case neck::Role::set:
    return note.in_set ? set : render::Role::none;
  case neck::Role::chord:
    break;
  }
  return look.chord_tones || (note.guide && look.landing) ? render::Role::chord
                                                          : render::Role::none;
}

using Marks = std::map<PlaceKey, render::Mark>;

void add_grip(Marks& marks, const BoardMoment& moment, const Look& look) {
  if (!moment.grip)
    return;
  const neck::Fretboard board(*moment.setting.instrument);
  for (std::size_t i = 0; i < moment.grip->frets.size(); ++i) {
    const auto fret = moment.grip->frets[i];
    if (!fret)
      continue;
    auto& mark = marks[{board.number(static_cast<int>(i)), *fret}];
    mark.in_grip = true;
    if (look.labels == neck::LabelKind::finger)
      mark.label = std::to_string(moment.grip->finger[i]);
  }
  if (look.labels == neck::LabelKind::finger) // the grip's fingers are not the hand's
    for (auto& [place, mark] : marks)
      if (!mark.in_grip)
        mark.label.clear();
}

} // namespace

std::vector<std::pair<PlaceKey, render::Mark>> marks_of(const BoardMoment& moment,
                                                        const Look& look) {
  Marks marks;
  const bool has_chord = moment.chords.chord.has_value();
  for (const auto& note : moment.view.notes) {
    auto& mark = marks[key_of(note)];
    mark.role = role_of(note, look, has_chord);
    mark.label =
        render::with_signs(neck::label(note, look.labels, moment.setting.key, moment.view.hand));
    mark.reach = note.reach;
    if (moment.fading && mark.role == render::Role::landing)
      mark.brightness = moment.fading->brightness(*moment.chords.chord, note.degree, look.fading);
  }
  for (const auto& note : moment.coming) {
    auto& mark = marks[key_of(note)];
    mark.coming = moment.arc;
    mark.common = mark.role == render::Role::landing;
    mark.reach = note.reach;
  }
  if (moment.setting.instrument->kind == neck::Instrument::Kind::fretted)
    add_grip(marks, moment, look);
  std::erase_if(marks, [](const auto& entry) {
    return entry.second.role == render::Role::none && !entry.second.coming && !entry.second.in_grip;
  });
  return {marks.begin(), marks.end()};
}

} // namespace landfall::app
