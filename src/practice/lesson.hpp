#pragma once

#include "neck/label.hpp"
#include "practice/choice.hpp"
#include "theory/set_book.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace landfall::practice {

/// One step of a lesson. What it leaves out stays as the scene before it had it.
struct Scene {
  std::string name;
  std::string say;                ///< One line that the class reads.
  std::vector<std::string> notes; ///< For the teacher's eyes only.

  std::string song;    ///< A song's name or path, or a progression in one line: `A | D | E | A`.
  std::string room;    ///< `jam` or `trade`.
  std::string density; ///< Of calls in Trade: sparse, medium, dense.
  std::string kind;    ///< Of answers in Trade: echo, moved, rhythm, free.
  std::optional<theory::Key> key;
  std::optional<neck::PlaceRequest> place;
  std::optional<theory::NoteSet> set;
  std::optional<theory::Over> over;
  std::optional<neck::Target> target;
  std::optional<int> tempo;                    ///< Beats a minute.
  std::optional<std::optional<BarRange>> loop; ///< `none` is the whole form.
  std::string feel;
  std::optional<std::array<bool, band::all_parts.size()>> muted; ///< By Part.

  std::optional<neck::Shown> show;
  std::optional<neck::LabelKind> labels;
  std::optional<bool> whole_board;
  std::optional<bool> neck_only; ///< Only the neck and the chord.

  int line = 1; ///< Where it begins in its file.
};

/// A lesson file read.
struct Lesson {
  std::string title;
  std::string about;      ///< Whom it is for, in one line.
  std::string instrument; ///< A shipped name; "" for the player's own.
  std::vector<Scene> scenes;
};

/// The format:
///
///     title: Five chords under one hand
///     about: Guitar, from open chords to positions.
///     instrument: guitar
///
///     scene: The hand
///     say: One finger a fret, from 4 to 7. Leave them there.
///     note: Look at the thumb.
///     song: slipway-at-six          or   song: A | D | E | A
///     key: A      place: E shape   |  fret 5  |  E shape fret 16
///     set: major pentatonic over the chord
///     target: thirds
///     tempo: 72   loop: 1-4  |  none     feel: shuffle     mute: drums, bass  |  none
///     show: landing, set, grip           labels: degree
///     board: position  |  whole  |  only
///     room: trade, echo, sparse
///
/// Each on a line of its own. `note` may come several times. Errors give line and column. Sets are
/// looked up in `sets`. At most 500 scenes.
Result<Lesson> read_lesson(std::string_view text, const theory::SetBook& sets);

/// The text of a lesson; reads back as the same.
std::string as_text(const Lesson& lesson);

/// The scene with all that the ones before it still hold; `number` from 0, within the lesson.
Scene whole_scene(const Lesson& lesson, std::size_t number);

} // namespace landfall::practice
