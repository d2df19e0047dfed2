#include "app/densities.hpp"
#include "app/room.hpp"
#include "app/scenes_page.hpp"
#include "app/setup.hpp"

#include <sstream>

namespace landfall::app {
namespace {

constexpr std::chrono::milliseconds tells_early{120}; ///< The band plans a bar line by then.
constexpr std::chrono::milliseconds starts_early{60}; ///< As long as a start takes.

} // namespace

bool Room::perform_lesson(Action action) {
  switch (action) {
  case Action::lessons:
    return show_list(lesson_list(lesson_ ? lesson_->file.path : "")), true;
  case Action::next_scene:
    return step_scene(1), true;
  case Action::previous_scene:
    return step_scene(-1), true;
  case Action::scenes:
    return show_scenes(), true;
  case Action::add_scene:
    return add_scene(), true;
  case Action::leave_lesson:
    return leave_lesson(), true;
  case Action::notes_window:
    return open_notes(0), true;
  case Action::neck_only:
    settings_.look.neck_only = !settings_.look.neck_only;
    return true;
  default:
    return false;
  }
}

void Room::choose_lesson(const std::string& value) {
  close_list();
  if (value == "lesson-leave")
    return leave_lesson();
  auto file = load_lesson(value.substr(value.find(':') + 1));
  file ? open_lesson(*std::move(file)) : say(file.error());
}

SceneState Room::state_now() const {
  SceneState state;
  state.song = conductor_.snapshot().song;
  state.song_name = settings_.song;
  state.choice = choice();
  state.look = settings_.look;
  state.trades = trading_ != nullptr;
  state.trade = trade_choice_;
  return state;
}

/// What was before the first lesson is given back after the last.
void Room::open_lesson(LessonFile file) {
  if (!lesson_) {
    remember_song();
    if (snapshot_.away)
      conductor_.end_replay();
    lesson_.emplace();
    lesson_->before = state_now();
    lesson_->instrument_before = instrument_;
    lesson_->instrument_choice_before = settings_.instrument;
  }
  lesson_->coming.reset();
  lesson_->file = std::move(file);
  const auto& lesson = lesson_->file.lesson;
  if (!lesson.instrument.empty()) {
    const auto instrument = load_instrument(lesson.instrument);
    if (!instrument)
      return say(instrument.error());
    instrument_ = *instrument;
    settings_.instrument = {lesson.instrument, "", std::nullopt};
  }
  const auto left = settings_.lessons.find(lesson_->file.name());
  lesson_->at = first_scene(lesson, left == settings_.lessons.end() ? std::nullopt
                                                                    : std::optional(left->second));
  show_scene(lesson_->at);
}

void Room::step_scene(int steps) {
  if (!lesson_)
    return say("open a lesson first: Y");
  if (const auto to = lesson_->stepped(steps))
    return show_scene(*to);
  say(steps > 0 ? "that was the last scene" : "this is the first scene");
}

std::vector<trade::Density> Room::densities() const {
  std::vector<std::string> problems;
  return trading_ ? trading_->densities() : load_densities(problems);
}

void Room::show_scene(std::size_t number) {
  if (!lesson_ || number >= lesson_->file.lesson.scenes.size())
    return;
  const auto scene = whole_scene(lesson_->file.lesson, number);
  auto song = lesson_->before.song;
  if (!scene.song.empty()) {
    std::istringstream nothing;
    const auto loaded = load_song(scene.song, nothing);
    if (!loaded)
      return say(loaded.error());
    song = loaded->song;
  }
  go_to({number, state_of(scene, std::move(song), lesson_->before, instrument_, densities()), {}});
}

void Room::leave_lesson() {
  if (lesson_)
    go_to({std::nullopt, lesson_->before, {}});
}

/// At once while the band is stopped, else at the next bar line.
void Room::go_to(OpenLesson::Coming coming) {
  conductor_.end_replay();
  through_.reset();
  held_.reset();
  snapshot_ = conductor_.snapshot();
  coming.run = snapshot_.run;
  if (snapshot_.transport.rolling) {
    const auto soon = snapshot_.transport.tick_at(Clock::now() + tells_early) + Ticks{1};
    coming.due = snapshot_.timeline->performance.bar_line_from(std::max(soon, Ticks{}));
    say(coming.scene ? "scene " + std::to_string(*coming.scene + 1) + " at the bar line"
                     : "the lesson ends at the bar line");
  }
  lesson_->coming = std::move(coming);
  follow_lesson();
}

/// Each round of the window: what is due takes hold.
void Room::follow_lesson() {
  if (!lesson_ || !lesson_->coming)
    return;
  auto& coming = *lesson_->coming;
  const auto snapshot = conductor_.snapshot();
  const auto now = Clock::now();
  const bool runs_on = snapshot.transport.rolling && snapshot.run == coming.run;
  const bool other_song = coming.state.song_name != settings_.song;
  const auto early = other_song ? starts_early : tells_early;
  if (!coming.sent && (!runs_on || snapshot.transport.tick_at(now + early) >= coming.due)) {
    tell_band(coming.state);
    coming.sent = true;
  }
  if (coming.sent && (!runs_on || other_song || snapshot.transport.tick_at(now) >= coming.due))
    settle_scene();
}

/// Parts that fall silent or come back do so at once: settle_scene() tells of them.
void Room::tell_band(const SceneState& state) {
  if (state.song_name == settings_.song) {
    auto commands = commands_between(choice(), state.choice);
    std::erase_if(commands, [](const auto& command) {
      return std::holds_alternative<practice::SetMuted>(command);
    });
    return conductor_.apply(commands);
  }
  practice::Session::Setup setup;
  setup.song = state.song;
  setup.feels = feels_;
  setup.seed = seed_;
  setup.choice = state.choice;
  hands_.forget_played();
  conductor_.set_up(std::move(setup));
}

/// The picture follows the band; where the lesson is left, it is over.
void Room::settle_scene() {
  chalk_ = {};
  const auto coming = *std::exchange(lesson_->coming, std::nullopt);
  auto look = coming.state.look;
  look.theme = settings_.look.theme; // may be changed at any time, and stays
  look.text_scale = settings_.look.text_scale;
  settings_.look = look;
  settings_.song = coming.state.song_name;
  conductor_.apply(commands_between(choice(), coming.state.choice));
  trade_as(coming.state.trades, coming.state.trade);
  message_.clear();
  changed_ = true;
  if (coming.scene) {
    lesson_->at = *coming.scene;
    settings_.lessons[lesson_->file.name()] = static_cast<int>(*coming.scene);
    return;
  }
  instrument_ = lesson_->instrument_before;
  settings_.instrument = lesson_->instrument_choice_before;
  lesson_.reset();
  if (shows<ScenesPage>()) // its scenes are gone
    close_page();
}

void Room::trade_as(bool trades, const TradeChoice& choice) {
  if (trades != (trading_ != nullptr))
    toggle_trade();
  trade_choice_ = choice;
  if (trading_)
    trading_->choose(choice);
}

void Room::show_lesson(FrameInput& input) const {
  if (lesson_)
    input.scene = view_of(*lesson_);
  else if (settings_.look.neck_only)
    input.scene = SceneView{};
}

void Room::click_on_scene(render::HitScene::Part part) {
  if (part == render::HitScene::Part::scenes)
    return show_scenes();
  step_scene(part == render::HitScene::Part::next ? 1 : -1);
}

} // namespace landfall::app
