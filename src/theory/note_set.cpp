#include "theory/note_set.hpp"

#include "theory/scale.hpp"
#include "theory/words.hpp"

#include <algorithm>

namespace landfall::theory {
namespace {

Result<NoteSet> from_degrees(std::string_view text, const std::string& lowered) {
  NoteSet set{"", NoteSet::Kind::fixed, {}};
  for (const auto word : words(lowered)) {
    const auto degree = parse_degree(word);
    if (!degree)
      return TextError{"'" + std::string(trimmed(text)) +
                           "' is neither a note set (arpeggio, fitting, a scale's name) nor a list "
                           "of degrees such as \"1 2 b3 5\"",
                       static_cast<int>(word.data() - lowered.data()) + degree.error().column};
    if (std::find(set.degrees.begin(), set.degrees.end(), *degree) == set.degrees.end())
      set.degrees.push_back(*degree);
  }
  if (set.degrees.empty())
    return TextError{"expected a note set or a list of degrees", 1};
  for (const auto degree : set.degrees)
    set.name += (set.name.empty() ? "" : " ") + ascii(degree);
  return set;
}

NoteSet named(std::string_view name) {
  return parse_note_set(name).value();
}

} // namespace

Result<NoteSet> parse_note_set(std::string_view text) {
  const auto lowered = lower_case(text);
  const auto name = trimmed(lowered);
  if (name == "arpeggio" || name == "arpeggios")
    return NoteSet{};
  if (name == "fitting")
    return NoteSet{"fitting", NoteSet::Kind::fitting, {}};
  if (const auto* scale = find_scale(name))
    return NoteSet{scale->name, NoteSet::Kind::fixed, scale->degrees};
  return from_degrees(text, lowered);
}

Over usual_over(const NoteSet& set) {
  return set.kind == NoteSet::Kind::fixed ? Over::key : Over::chord;
}

const NoteSet& FittingTable::of(Quality quality) const {
  switch (quality) {
  case Quality::minor:
    return minor;
  case Quality::dominant:
    return dominant;
  case Quality::diminished:
    return diminished;
  case Quality::half_diminished:
    return half_diminished;
  case Quality::augmented:
    return augmented;
  case Quality::suspended:
    return suspended;
  case Quality::major:
    break;
  }
  return major;
}

const FittingTable& default_fitting() {
  static const FittingTable table{
      named("major pentatonic"), named("minor pentatonic"), named("1 2 3 5 b7"),
      named("1 b3 4 b5 bb7"),    named("1 b3 4 b5 b7"),     named("whole tone"),
      named("1 2 4 5 b7"),
  };
  return table;
}

bool RootedSet::contains(int pitch_class) const {
  return spelled(pitch_class).has_value();
}

std::optional<Note> RootedSet::spelled(int pitch_class) const {
  for (const auto note : notes)
    if (theory::pitch_class(note) == pitch_class)
      return note;
  return std::nullopt;
}

RootedSet resolved(const NoteSet& set, Over over, Key key, const std::optional<Chord>& chord,
                   const FittingTable& fitting) {
  const Chord under = over == Over::chord && chord ? *chord : tonic_chord(key);
  const auto& fixed = set.kind == NoteSet::Kind::fitting ? fitting.of(quality(under)) : set;
  const auto& degrees = fixed.kind == NoteSet::Kind::arpeggio ? under.degrees : fixed.degrees;
  return {under.root, degrees, notes_at(under.root, degrees)};
}

} // namespace landfall::theory
