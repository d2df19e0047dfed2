#include "app/scene_state.hpp"

#include "app/setup.hpp"

#include <algorithm>
#include <cmath>

namespace landfall::app {
namespace {

constexpr int all_groups = 99;
constexpr neck::Shown usually_shown{true, true, false, false, false, false};

/// What the song itself says, where the scene has another one than before.
void take_song(practice::Choice& choice, const song::Song& song) {
  choice.key = song.key;
  choice.tempo = song.tempo;
  choice.feel.clear();
}

practice::Choice choice_of(const practice::Scene& scene, const song::Song& song,
                           const SceneState& before) {
  auto choice = before.choice;
  choice.key_moves = {};
  choice.tempo_moves = {};
  if (!scene.song.empty())
    take_song(choice, song);
  if (scene.key)
    choice.key = {scene.key->tonic, song.key.minor};
  if (scene.tempo)
    choice.tempo = song::tempo_from_beats(*scene.tempo, song.meter);
  if (!scene.feel.empty())
    choice.feel = scene.feel;
  choice.place = scene.place.value_or(neck::PlaceRequest{});
  choice.set = scene.set ? *scene.set : *theory::parse_note_set(usual_set);
  choice.over = scene.over.value_or(theory::usual_over(choice.set));
  choice.target = scene.target.value_or(neck::Target{});
  choice.loop = scene.loop.value_or(std::nullopt);
  choice.muted = scene.muted.value_or(decltype(choice.muted){});
  return choice;
}

Look look_of(const practice::Scene& scene, const Look& before) {
  Look look = before;
  set_shown(look, scene.show.value_or(usually_shown));
  look.labels = scene.labels.value_or(neck::LabelKind::degree);
  look.whole_board = scene.whole_board.value_or(false);
  look.neck_only = scene.neck_only.value_or(false);
  look.fading = practice::FadingSpeed::off;
  return look;
}

TradeChoice trade_of(const practice::Scene& scene, const neck::Instrument& instrument,
                     std::span<const trade::Density> densities) {
  TradeChoice choice;
  if (scene.kind == "rhythm")
    choice.kind = trade::AnswerKind::rhythm;
  else if (scene.kind == "free")
    choice.kind = trade::AnswerKind::free;
  else if (scene.kind == "moved")
    choice.echo = instrument.kind == neck::Instrument::Kind::fretted ? EchoPlace::next_place
                                                                     : EchoPlace::next_key;
  const auto density = std::find_if(densities.begin(), densities.end(),
                                    [&](const auto& each) { return each.name == scene.density; });
  if (density != densities.end())
    choice.density = static_cast<std::size_t>(density - densities.begin());
  return choice;
}

std::string kind_of(const TradeChoice& trade) {
  switch (trade.kind) {
  case trade::AnswerKind::rhythm:
    return "rhythm";
  case trade::AnswerKind::free:
    return "free";
  default:
    return trade.echo == EchoPlace::here ? "echo" : "moved";
  }
}

} // namespace

SceneState state_of(const practice::Scene& scene, std::shared_ptr<const song::Song> song,
                    const SceneState& before, const neck::Instrument& instrument,
                    std::span<const trade::Density> densities) {
  SceneState state;
  state.choice = choice_of(scene, *song, before);
  state.song = std::move(song);
  state.song_name = scene.song.empty() ? before.song_name : scene.song;
  state.look = look_of(scene, before.look);
  state.trades = scene.room == "trade";
  state.trade = trade_of(scene, instrument, densities);
  return state;
}

std::vector<practice::Command> commands_between(const practice::Choice& from,
                                                const practice::Choice& to) {
  using namespace practice;
  std::vector<Command> commands;
  const auto add = [&](bool differs, const Command& command) {
    if (differs)
      commands.push_back(command);
  };
  add(!(from.key_moves == to.key_moves), SetKeyMoves{to.key_moves});
  add(!(from.tempo_moves == to.tempo_moves), SetTempoMoves{to.tempo_moves});
  add(from.key != to.key, SetKey{to.key});
  add(from.place != to.place, SetPlace{to.place});
  add(!(from.set == to.set) || from.over != to.over, SetNotes{to.set, to.over});
  add(!(from.target == to.target), SetTarget{to.target});
  add(from.tempo != to.tempo, SetTempo{to.tempo});
  add(from.feel != to.feel, SetFeel{to.feel});
  add(from.loop != to.loop, SetLoop{to.loop});
  for (const auto part : band::all_parts) {
    const auto index = static_cast<std::size_t>(part);
    add(from.muted[index] != to.muted[index], SetMuted{part, to.muted[index]});
  }
  return commands;
}

void set_shown(Look& look, const neck::Shown& shown) {
  look.landing = shown.landing;
  look.set_notes = shown.set;
  look.chord_tones = shown.chord_tones;
  look.grip = shown.grip;
  look.groups = shown.groups ? all_groups : 0;
  look.grip_number = shown.grips ? 1 : 0;
}

neck::Shown shown_of(const Look& look) {
  return {look.landing, look.set_notes,  look.chord_tones,
          look.grip,    look.groups > 0, look.grip_number > 0};
}

practice::Scene scene_of(const SceneState& state, std::span<const trade::Density> densities) {
  const auto& choice = state.choice;
  practice::Scene scene;
  scene.song = state.song_name;
  scene.key = choice.key;
  if (choice.place != neck::PlaceRequest{})
    scene.place = choice.place;
  scene.set = choice.set;
  scene.over = choice.over;
  scene.target = choice.target;
  scene.tempo = static_cast<int>(std::lround(beats_per_minute(choice.tempo, state.song->meter)));
  scene.loop = choice.loop;
  scene.feel = choice.feel;
  scene.muted = choice.muted;
  scene.show = shown_of(state.look);
  scene.labels = state.look.labels;
  scene.whole_board = state.look.whole_board;
  scene.neck_only = state.look.neck_only;
  scene.room = state.trades ? "trade" : "jam";
  if (state.trades)
    scene.kind = kind_of(state.trade);
  if (const auto& density = state.trade.density;
      state.trades && density && *density < densities.size())
    scene.density = densities[*density].name;
  return scene;
}

} // namespace landfall::app
