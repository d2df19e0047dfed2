#include "neck/view.hpp"

#include <algorithm>

namespace landfall::neck {
namespace {

using theory::Degree;
using theory::Note;

/// The tones of the chord and the set, and how to name them.
class Names {
public:
  Names(const Setting& setting, const std::optional<theory::Chord>& chord)
      : setting_(setting), chord_(chord),
        set_(resolved(setting.set, setting.over, setting.key, chord,
                      setting.fitting != nullptr ? *setting.fitting : theory::default_fitting())),
        set_tones_(pitch_classes(set_.notes)), chord_tones_(chord ? pitch_classes(*chord) : 0) {
    if (chord)
      for (const auto degree : guide_tones(*chord))
        guides_ = static_cast<PitchClasses>(guides_ | bit(*chord, degree));
  }

  PitchClasses set() const { return set_tones_; }
  PitchClasses chord() const { return chord_tones_; }

  NeckNote named(int pitch, bool reach) const {
    NeckNote note;
    note.midi = {pitch};
    note.reach = reach;
    note.in_set = has(set_tones_, pitch);
    note.guide = has(guides_, pitch);
    name(note, pitch % 12);
    note.role = role(pitch);
    return note;
  }

private:
  static unsigned bit(const theory::Chord& chord, Degree degree) {
    return 1U << ((pitch_class(chord.root) + pitch_class(degree)) % 12);
  }

  Role role(int pitch) const {
    if (!has(chord_tones_, pitch))
      return Role::set;
    const bool none_in_set = (chord_tones_ & set_tones_) == 0;
    return has(set_tones_, pitch) || none_in_set ? Role::landing : Role::chord;
  }

  void name(NeckNote& note, int tone) const {
    if (chord_)
      if (const auto degree = degree_in(*chord_, tone)) {
        note.degree = *degree;
        note.note = note_at(chord_->root, *degree);
        return;
      }
    note.note = set_.spelled(tone).value_or(spelled_in(setting_.key, tone));
    const Note root = chord_ ? chord_->root : setting_.key.tonic;
    note.degree = plain(degree_between(root, note.note), tone - pitch_class(root));
  }

  /// A degree by letter, unless nobody would say it (#7, b1): then the usual one for its sound.
  static Degree plain(Degree by_letter, int half_steps) {
    const int number = by_letter.number, alteration = by_letter.alteration;
    const bool said = alteration == 0 || (alteration == -1 && number != 1) ||
                      (alteration == 1 && number != 1 && number != 3 && number != 7) ||
                      (alteration == -2 && number == 7);
    return said ? by_letter : theory::usual_degree(half_steps);
  }

  const Setting& setting_;
  const std::optional<theory::Chord>& chord_;
  theory::RootedSet set_;
  PitchClasses set_tones_, chord_tones_, guides_ = 0;
};

/// A close voicing: the chord's tones from the lowest key of the hand upwards, each once. A slash
/// chord's bass is left to the other hand.
void mark_close_voicing(std::vector<NeckNote>& notes, PitchClasses chord) {
  PitchClasses missing = chord;
  for (auto& note : notes)
    if (!note.reach && has(missing, note.midi.number)) {
      note.in_grip = true;
      missing = static_cast<PitchClasses>(missing & ~(1U << pitch_class(note.midi)));
    }
}

std::vector<NeckNote> keys(const Instrument& keyboard, const Position& home, const Names& names) {
  std::vector<NeckNote> notes;
  const auto shown = static_cast<PitchClasses>(names.set() | names.chord());
  const int first = std::max(home.low - keyboard.reach, keyboard.lowest.number);
  const int last = std::min(home.high + keyboard.reach, keyboard.highest.number);
  for (int pitch = first; pitch <= last; ++pitch)
    if (has(shown, pitch)) {
      notes.push_back(names.named(pitch, pitch < home.low || pitch > home.high));
      notes.back().string = 0;
    }
  mark_close_voicing(notes, names.chord());
  return notes;
}

void mark_grip(std::vector<Group>& found, const std::vector<NeckNote>& notes) {
  const auto held = [&](int pitch) {
    return std::any_of(notes.begin(), notes.end(), [&](const NeckNote& note) {
      return note.in_grip && note.midi.number == pitch;
    });
  };
  for (auto& group : found)
    group.in_grip = std::all_of(group.pitches.begin(), group.pitches.end(), held);
  std::stable_partition(found.begin(), found.end(), [](const Group& g) { return g.in_grip; });
}

NeckNote at_place(const Fretboard& board, const Place& place, const Names& names) {
  auto note = names.named(place.pitch, place.reach);
  note.string = board.number(place.string);
  note.fret = place.fret;
  return note;
}

/// The set's places, and the chord tones outside it at theirs.
std::vector<NeckNote> frets(const Fretboard& board, int low, const Names& names) {
  auto found = places(board, names.set(), names.chord(), low);
  const auto outside = static_cast<PitchClasses>(names.chord() & ~names.set());
  if (outside != 0) {
    const auto all = static_cast<PitchClasses>(names.chord() | names.set());
    for (const auto& place : places(board, all, names.chord(), low))
      if (has(outside, place.pitch))
        found.push_back(place);
    std::sort(found.begin(), found.end(), [](const Place& a, const Place& b) {
      return a.string != b.string ? a.string < b.string : a.fret < b.fret;
    });
  }
  std::vector<NeckNote> notes;
  notes.reserve(found.size());
  for (const auto& place : found)
    notes.push_back(at_place(board, place, names));
  return notes;
}

Position moved(const Fretboard& board, Position position, int low) {
  position.low = low;
  position.high = board.under(low).hand.last;
  return position;
}

const theory::FittingTable& fitting(const Setting& setting) {
  return setting.fitting != nullptr ? *setting.fitting : theory::default_fitting();
}

int low_for(const Fretboard& board, const Setting& setting,
            const std::optional<theory::Chord>& chord) {
  return hand_for(board, setting.home, setting.key, chord, setting.set, setting.over,
                  fitting(setting));
}

/// The grip of the chord's shape; where shapes have no meaning, the best one found.
FretRow shown_grip(const Fretboard& board, const NeckView& view, const ChordTones& tones) {
  if (view.chord_shape)
    return shape_grip(board, *view.chord_shape, tones);
  FretRow row;
  if (!view.grips.empty())
    for (int string = 0; string < board.count; ++string)
      if (const auto fret = view.grips.front().frets[static_cast<std::size_t>(string)])
        row[string] = static_cast<std::int8_t>(*fret);
  return row;
}

} // namespace

NeckView view(const Setting& setting, const std::optional<theory::Chord>& chord,
              const ViewOptions& options) {
  NeckView view;
  view.home = view.hand = setting.home;
  const Names names(setting, chord);
  if (setting.instrument->kind == Instrument::Kind::keyboard) {
    view.notes = keys(*setting.instrument, setting.home, names);
    if (chord && options.groups)
      view.groups = groups(ChordTones(*chord), setting.home.low, setting.home.high);
    mark_grip(view.groups, view.notes);
    return view;
  }
  const Fretboard board(*setting.instrument);
  view.hand = moved(board, setting.home, low_for(board, setting, chord));
  view.notes = frets(board, view.hand.low, names);
  if (!chord)
    return view;
  view.chord_shape = chord_shape(board, setting.home, setting.key, *chord);
  if (options.grips)
    view.grips = grips(board, *chord, {false, view.hand.low, options.most_grips});
  const ChordTones tones(*chord);
  const auto grip = shown_grip(board, view, tones);
  for (auto& note : view.notes)
    note.in_grip = grip[board.count - note.string] == *note.fret;
  if (options.groups)
    view.groups = groups(board, tones, view.hand.low, grip);
  return view;
}

std::vector<NeckNote> landing(const Setting& setting, const std::optional<theory::Chord>& chord) {
  auto notes = view(setting, chord, {.groups = false, .grips = false}).notes;
  std::erase_if(notes, [](const NeckNote& note) { return note.role != Role::landing; });
  return notes;
}

} // namespace landfall::neck
