#include "app/frame_builder.hpp"
#include "app/setting.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace landfall::app {
namespace {

using PlaceKey = std::pair<int, int>; ///< String and fret; on a keyboard 0 and the MIDI note.

/// The places to show, by where they are.
using Marks = std::map<PlaceKey, render::Mark>;

struct Moment {
  neck::Setting setting; ///< For the present chord.
  neck::NeckView view;
  std::vector<neck::NeckNote> coming;
  std::optional<double> arc; ///< How much of the arcs is closed.
  PresentChord chords;
};

PlaceKey key_of(const neck::NeckNote& note) {
  return {note.string, note.fret.value_or(note.midi.number)};
}

practice::Choice choice_at(const Snapshot& snapshot, Ticks tick) {
  return snapshot.transport.rolling ? snapshot.timeline->choice_at(tick) : snapshot.choice;
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

Moment moment_at(const FrameInput& input, double tick) {
  const auto& snapshot = input.snapshot;
  const auto& performance = snapshot.timeline->performance;
  const Ticks at{static_cast<std::int64_t>(std::max(std::floor(tick), 0.0))};
  Moment moment;
  moment.chords = present_chord(performance, at);
  const auto place = setting_of(*input.instrument, choice_at(snapshot, at));
  moment.setting = in_key(place, moment.chords.key);
  moment.view = neck::view(moment.setting, moment.chords.chord, {false, false, 0});
  if (!snapshot.transport.rolling)
    return moment;
  moment.arc = arc_at(performance, moment.chords, std::max(tick, 0.0));
  if (moment.arc && moment.chords.next) {
    const auto next = setting_of(*input.instrument, choice_at(snapshot, moment.chords.to));
    moment.coming = neck::landing(in_key(next, moment.chords.next_key), moment.chords.next);
  }
  return moment;
}

std::string label_of(const neck::NeckNote& note, Labels labels, theory::Key key) {
  switch (labels) {
  case Labels::degree:
    return render::with_signs(ascii(note.degree));
  case Labels::key_degree: {
    const int above = pitch_class(note.note) - pitch_class(key.tonic) + 12;
    return render::with_signs(ascii(theory::usual_degree(above)));
  }
  case Labels::note:
    return render::with_signs(ascii(note.note));
  case Labels::none:
    break;
  }
  return "";
}

render::Role role_of(const neck::NeckNote& note, bool all_chord_tones) {
  switch (note.role) {
  case neck::Role::landing:
    return render::Role::landing;
  case neck::Role::set:
    return render::Role::set;
  case neck::Role::chord:
    break;
  }
  return all_chord_tones || note.guide ? render::Role::chord : render::Role::none;
}

Marks marks_of(const Moment& moment, const Look& look) {
  Marks marks;
  for (const auto& note : moment.view.notes) {
    render::Mark mark;
    mark.role = moment.chords.chord || note.role == neck::Role::set
                    ? role_of(note, look.chord_tones)
                    : render::Role::set;
    mark.label = label_of(note, look.labels, moment.setting.key);
    mark.reach = note.reach;
    marks[key_of(note)] = mark;
  }
  for (const auto& note : moment.coming) {
    auto& mark = marks[key_of(note)];
    mark.coming = moment.arc;
    mark.common = mark.role == render::Role::landing;
    mark.reach = mark.reach || (mark.role == render::Role::none && note.reach);
  }
  std::erase_if(marks, [](const auto& entry) {
    return entry.second.role == render::Role::none && !entry.second.coming;
  });
  return marks;
}

/// Where a note sounds: where it is known to be played, else at its place, else nearest the hand.
std::optional<PlaceKey> place_of(const SoundingNote& note, const Moment& moment) {
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
  neck.last_fret = whole ? std::min(board.frets, std::max(15, home.high + 1))
                         : std::min(board.frets, home.high + 2);
  for (const int fret : {3, 5, 7, 9, 12, 15, 17, 19, 21, 24})
    if (fret <= board.frets)
      neck.inlays.push_back(fret);
  neck.double_inlays = {12, 24};
}

render::Neck neck_of(const FrameInput& input, const Moment& moment) {
  const neck::Fretboard board(*input.instrument);
  render::Neck neck;
  neck.strings = string_looks(board);
  choose_frets(neck, board, moment.setting.home, input.look.whole_board);
  neck.hand_low = moment.view.hand.low;
  neck.hand_high = moment.view.hand.high;
  neck.capo = input.instrument->capo;
  neck.true_spacing = input.look.true_spacing;
  neck.left_handed = input.look.left_handed;
  neck.seen_by_player = input.look.seen_by_player;
  for (auto& [place, mark] : marks_of(moment, input.look))
    neck.places.push_back({place.first, place.second, std::move(mark)});
  for (const auto& note : input.sounding)
    if (const auto place = place_of(note, moment))
      neck.sounding.push_back({place->first, place->second, note.bend, note.brightness});
  return neck;
}

render::Keyboard keyboard_of(const FrameInput& input, const Moment& moment) {
  render::Keyboard keyboard;
  const auto& home = moment.setting.home;
  keyboard.lowest =
      std::max(input.instrument->lowest.number, input.look.whole_board ? 36 : home.low - 7);
  keyboard.highest =
      std::min(input.instrument->highest.number, input.look.whole_board ? 96 : home.high + 7);
  keyboard.hand_low = moment.view.hand.low;
  keyboard.hand_high = moment.view.hand.high;
  for (auto& [place, mark] : marks_of(moment, input.look))
    keyboard.keys.push_back({place.second, std::move(mark)});
  for (const auto& note : input.sounding)
    keyboard.sounding.push_back({note.midi, note.bend, note.brightness});
  return keyboard;
}

} // namespace

std::variant<render::Neck, render::Keyboard> build_board(const FrameInput& input, double tick) {
  const auto moment = moment_at(input, tick);
  if (input.instrument->kind == neck::Instrument::Kind::keyboard)
    return keyboard_of(input, moment);
  return neck_of(input, moment);
}

} // namespace landfall::app
