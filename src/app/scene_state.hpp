#pragma once

#include "app/look.hpp"
#include "app/trading.hpp"
#include "practice/lesson.hpp"
#include "song/song.hpp"

namespace landfall::app {

/// All that a scene sets, and all that a lesson gives back when it is left.
struct SceneState {
  std::shared_ptr<const song::Song> song; ///< Never null.
  std::string song_name;                  ///< As settings have it.
  practice::Choice choice;
  Look look;
  bool trades = false;
  TradeChoice trade;
};

/// What a scene, whole, sets. `song` is the one it names, else the one of `before`. What no scene
/// up to this one says is as usual; the band's mixing, count-in and fullness, the theme, the size
/// of text and the side of the nut stay as they were before the lesson. `densities` are those that
/// calls can have. Pure.
SceneState state_of(const practice::Scene& scene, std::shared_ptr<const song::Song> song,
                    const SceneState& before, const neck::Instrument& instrument,
                    std::span<const trade::Density> densities);

/// The commands that lead from one choice to another over the same song.
std::vector<practice::Command> commands_between(const practice::Choice& from,
                                                const practice::Choice& to);

/// The layers of a view as the window shows them, and what the window shows as layers.
void set_shown(Look& look, const neck::Shown& shown);
neck::Shown shown_of(const Look& look);

/// A scene that shows all of a state again; name and line are left empty.
practice::Scene scene_of(const SceneState& state, std::span<const trade::Density> densities);

} // namespace landfall::app
