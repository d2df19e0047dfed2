#pragma once

#include "app/frame_builder.hpp"
#include "neck/view.hpp"

namespace landfall::app {

/// What lies under a hand at a moment, and what comes: all that a board shows, still as music.
struct BoardMoment {
  neck::Setting setting;          ///< In the present bar's key.
  neck::NeckView view;            ///< Aimed at the target.
  std::optional<neck::Grip> grip; ///< The one that is shown.
  std::vector<neck::NeckNote> coming;
  std::optional<double> arc; ///< How much of the arcs is closed.
  PresentChord chords;
  std::shared_ptr<const practice::Fading> fading; ///< Null for none.
};

/// In the chosen place, or with the hand at `home`.
BoardMoment board_moment(const FrameInput& input, double tick,
                         const std::optional<neck::Position>& home = std::nullopt);

/// Where the hand is at a performance tick.
neck::Setting setting_at(const FrameInput& input, double tick);

/// String and fret; on a keyboard 0 and the MIDI note.
struct PlaceKey {
  int string = 0;
  int fret = 0;

  auto operator<=>(const PlaceKey&) const = default;
};
PlaceKey key_of(const neck::NeckNote& note);

/// The marks of a moment, each with its place.
std::vector<std::pair<PlaceKey, render::Mark>> marks_of(const BoardMoment& moment,
                                                        const Look& look);

/// A moment on a neck. What sounds is shown if `sounding`.
render::Neck neck_of(const FrameInput& input, const BoardMoment& moment, bool sounding = true);

} // namespace landfall::app
