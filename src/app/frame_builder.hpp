#pragma once

#include "app/conductor.hpp"
#include "app/look.hpp"
#include "app/words.hpp"
#include "ear/verdict.hpp"
#include "practice/trade_turn.hpp"

#include <span>

namespace landfall::app {

/// A note that the player is holding, or has just let go.
struct SoundingNote {
  int midi = 60;
  double bend = 0.0;                             ///< In half steps.
  double brightness = 1.0;                       ///< 0 to 1.
  ear::NoteClass kind = ear::NoteClass::landing; ///< As it was struck.
  std::optional<int> string; ///< Where it is played, if that is known; 1 is the highest.
  std::optional<int> fret;
  bool call = false; ///< The call's, not the player's.
};

/// A note that was played, for the trace in the lane.
struct PlayedNote {
  Ticks from;
  std::optional<Ticks> to; ///< None while it sounds.
  int midi = 60;
  bool landed = false; ///< A landing note of the chord that it began over.
};

/// A trade, as the picture has it.
struct TradeView {
  const practice::TradeTurn* turn = nullptr;      ///< Null before the first.
  const practice::TurnVerdict* verdict = nullptr; ///< Of it, so far; null where there is no turn.
  Ticks shown_to;    ///< Where the bars that stand still end: its end, had it not been left early.
  bool shown = true; ///< The call is drawn, not only heard.
  std::string kind;  ///< `echo · medium`
  std::string summary; ///< `last answer: 11 of 12 notes`
};

/// A teacher at a second input, with an instrument of their own.
struct OtherPlayer {
  const neck::Instrument* instrument = nullptr; ///< Never null.
  std::span<const SoundingNote> sounding;
  std::string summary; ///< `landed 3 of 4`, or empty.
};

/// A lesson's scene, or the board and its chord alone: all empty.
struct SceneView {
  std::string count; ///< `4 of 12`
  std::string title;
  std::string line; ///< What the class reads.
};

struct Chalk;

/// All that a frame shows.
struct FrameInput {
  Snapshot snapshot;
  TimePoint now;
  const neck::Instrument* instrument = nullptr; ///< Never null.
  Look look;
  std::span<const SoundingNote> sounding;
  std::optional<OtherPlayer> other; ///< Whose board stands beside the player's.
  std::span<const PlayedNote> played;
  std::span<const ear::JudgedChange> judged; ///< In the order of their ticks.
  std::optional<render::Timing> timing;
  std::optional<TradeView> trade;
  std::optional<SceneView> scene;
  std::string large;            ///< A degree that is named large.
  const Chalk* chalk = nullptr; ///< What a teacher drew; may be null.
  std::optional<render::Reel> reel;
  std::string ports, summary, hints, notice, message;
  std::shared_ptr<const practice::Fading> fading; ///< May be null.
  render::Page page;
};

/// The chord in force at a performance tick, and when the next one comes.
struct PresentChord {
  std::optional<theory::Chord> chord;
  Ticks from; ///< Where it began.
  Ticks to;   ///< Where the next one begins, which has other tones or another root.
  std::optional<theory::Chord> next;
  theory::Key key;      ///< Of its bar.
  theory::Key next_key; ///< Of the next one's.
};
PresentChord present_chord(const song::Performance& performance, Ticks tick);

/// Puts a frame together. Pure: it reads no clock.
render::Frame build_frame(const FrameInput& input);

/// The performance tick that a frame shows, with its fraction: the top of the form while stopped.
double shown_tick(const Snapshot& snapshot, TimePoint now);

/// The lane of a frame.
render::Lane build_lane(const FrameInput& input, double tick);

/// The lane's bars stand still for a turn, with call and answer in them. `now` is the frame's tick.
void dress_for_trade(render::Lane& lane, const TradeView& trade, double now);

/// The call's notes that sound at a tick.
std::vector<SoundingNote> called_notes(const TradeView& trade, double now);

/// The scene of a frame whose input has one.
render::Scene build_scene(const FrameInput& input, double tick);

/// The neck or keyboard of a frame.
std::variant<render::Neck, render::Keyboard> build_board(const FrameInput& input, double tick);

} // namespace landfall::app
