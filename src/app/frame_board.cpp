#include "app/chalk.hpp"

#include <algorithm>
#include <cmath>

namespace landfall::app {
namespace {

/// Where a note sounds: where it is known to be played, else at its place, else nearest the hand.
std::optional<PlaceKey> place_of(const SoundingNote& note, const BoardMoment& moment) {
  if (note.string && note.fret)
    return PlaceKey{*note.string, *note.fret};
  for (const auto& place : moment.view.notes)
    if (place.midi.number == note.midi && place.fret)
      return PlaceKey{place.string, *place.fret};
  const neck::Fretboard board(*moment.setting.instrument);
  const int centre = (moment.view.hand.low + moment.view.hand.high) / 2;
  std::optional<PlaceKey> best;
  int least = 1000;
  for (int string = 0; string < board.count; ++string)
    for (int fret = 0; fret <= board.frets; ++fret)
      if (board.pitch(string, fret) == note.midi && std::abs(fret - centre) < least) {
        least = std::abs(fret - centre);
        best = PlaceKey{board.number(string), fret};
      }
  return best;
}

std::vector<render::StringLook> string_looks(const neck::Fretboard& board) {
  std::vector<render::StringLook> looks;
  for (int string = board.count - 1; string >= 0; --string) {
    const auto& each = board.strings[static_cast<std::size_t>(string)];
    const double gauge = std::clamp((70.0 - each.open.number) / 42.0, 0.0, 1.0);
    looks.push_back({gauge, each.open.number < 55, each.first_fret});
  }
  return looks;
}

/// The position with its reach and a little around it, the same for every chord of the song.
void choose_frets(render::Neck& neck, const neck::Fretboard& board, const neck::Position& home,
                  bool whole) {
  neck.first_fret = whole ? 0 : std::max(0, home.low - 2);
  neck.last_fret = whole ? std::min(board.frets, 24) : std::min(board.frets, home.high + 2);
  for (const int fret : {3, 5, 7, 9, 12, 15, 17, 19, 21, 24})
    if (fret <= board.frets)
      neck.inlays.push_back(fret);
  neck.double_inlays = {12, 24};
}

render::GroupKind kind_of(const neck::Group& group) {
  return group.kind == neck::Group::Kind::triad ? render::GroupKind::triad
                                                : render::GroupKind::fifth;
}

/// Whether a group is on the set of strings that is shown.
bool is_shown(const neck::Group& group, int set, int strings) {
  const int highest = *std::min_element(group.strings.begin(), group.strings.end());
  return set > strings - 2 || highest == set;
}

void add_groups(render::Neck& neck, const BoardMoment& moment, int set) {
  if (set == 0)
    return;
  for (const auto& group : moment.view.groups) {
    if (!is_shown(group, set, static_cast<int>(neck.strings.size())))
      continue;
    render::NeckGroup shown;
    for (std::size_t i = 0; i < 3; ++i)
      shown.places[i] = {group.strings[i], group.frets[i]};
    shown.name = group.form;
    shown.kind = kind_of(group);
    shown.in_grip = group.in_grip;
    neck.groups.push_back(std::move(shown));
  }
}

void add_grip(render::Neck& neck, const BoardMoment& moment, const neck::Fretboard& board) {
  if (!moment.grip)
    return;
  for (int string = 0; string < board.count; ++string)
    if (!moment.grip->frets[static_cast<std::size_t>(string)])
      neck.muted_strings.push_back(board.number(string));
  for (const auto& barre : moment.grip->barres)
    neck.barres.push_back({barre.fret, board.number(barre.first), board.number(barre.last)});
  neck.caption = render::with_signs(moment.grip->name);
}

render::Sounds sounds_of(const SoundingNote& note) {
  const auto kind = note.kind;
  return note.call                         ? render::Sounds::call
         : kind == ear::NoteClass::landing ? render::Sounds::landing
         : kind == ear::NoteClass::set     ? render::Sounds::set
                                           : render::Sounds::outside;
}

render::Keyboard keyboard_of(const FrameInput& input, const BoardMoment& moment) {
  render::Keyboard keyboard;
  const auto& home = moment.setting.home;
  const bool whole = input.look.whole_board;
  keyboard.lowest = std::max(input.instrument->lowest.number, whole ? 36 : home.low - 7);
  keyboard.highest = std::min(input.instrument->highest.number, whole ? 96 : home.high + 7);
  keyboard.hand_low = moment.view.hand.low;
  keyboard.hand_high = moment.view.hand.high;
  for (auto& [place, mark] : marks_of(moment, input.look))
    keyboard.keys.push_back({place.fret, mark});
  for (const auto& note : input.sounding)
    keyboard.sounding.push_back({note.midi, note.bend, note.brightness, sounds_of(note)});
  if (input.look.groups > 0)
    for (const auto& group : moment.view.groups)
      keyboard.groups.push_back(
          {group.pitches, std::string(group.form), kind_of(group), group.in_grip, false});
  return keyboard;
}

} // namespace

render::Neck neck_of(const FrameInput& input, const BoardMoment& moment, bool sounding) {
  const neck::Fretboard board(*input.instrument);
  render::Neck neck;
  neck.strings = string_looks(board);
  choose_frets(neck, board, moment.setting.home, input.look.whole_board);
  neck.hand_low = moment.view.hand.low;
  neck.hand_high = moment.view.hand.high;
  neck.capo = input.instrument->capo;
  neck.true_spacing = input.look.true_spacing;
  neck.left_handed = input.look.left_handed != input.instrument->left_handed;
  neck.seen_by_player = input.look.seen_by_player;
  for (auto& [place, mark] : marks_of(moment, input.look))
    neck.places.push_back({place.string, place.fret, mark});
  add_grip(neck, moment, board);
  add_groups(neck, moment, input.look.groups);
  if (sounding)
    for (const auto& note : input.sounding)
      if (const auto place = place_of(note, moment))
        neck.sounding.push_back(
            {place->string, place->fret, note.bend, note.brightness, sounds_of(note)});
  return neck;
}

std::variant<render::Neck, render::Keyboard> build_board(const FrameInput& input, double tick) {
  const auto moment = board_moment(input, tick);
  std::variant<render::Neck, render::Keyboard> board;
  if (input.instrument->kind == neck::Instrument::Kind::keyboard)
    board = keyboard_of(input, moment);
  else
    board = neck_of(input, moment);
  if (input.chalk != nullptr)
    draw(*input.chalk, moment, input.look, board);
  return board;
}

} // namespace landfall::app
