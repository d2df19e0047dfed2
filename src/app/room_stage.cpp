#include "app/held.hpp"
#include "app/room.hpp"

namespace landfall::app {

bool Room::perform_stage(Action action) {
  switch (action) {
  case Action::freeze:
    return held_ ? go_on() : hold(), true;
  case Action::chord_on:
    return step_held(chord_steps, 1), true;
  case Action::chord_back:
    return step_held(chord_steps, -1), true;
  case Action::beat_on:
    return step_held(beat_steps, 1), true;
  case Action::beat_back:
    return step_held(beat_steps, -1), true;
  case Action::play_through:
    return play_through(), true;
  case Action::chalk:
    return take_up_chalk(), true;
  case Action::wipe:
    return chalk_ = {}, say("wiped"), true;
  default:
    return false;
  }
}

const song::Stretch& Room::first_stretch() const {
  return snapshot_.timeline->performance.stretches().front();
}

/// The band holds; its lights stay at the beat where it was.
void Room::hold() {
  conductor_.end_replay();
  snapshot_ = conductor_.snapshot();
  const auto moment = here();
  const bool rolling = snapshot_.transport.rolling;
  const auto before = snapshot_; // keeps the moment's form
  conductor_.stop();
  snapshot_ = conductor_.snapshot();
  listen_on();
  held_song_ = snapshot_.song;
  held_ = rolling && moment ? held_at(first_stretch(), *moment) : first_stretch().start;
  say("the band holds");
}

/// From the bar in which it is held, after a bar of count-in.
void Room::go_on() {
  snapshot_ = conductor_.snapshot();
  const auto at = bar_line_before(first_stretch(), *held_);
  held_.reset();
  replayed_.reset();
  hands_.forget_played();
  conductor_.start_at(at);
  goes_on_at_ = at;
}

/// The beats of the bar before, large; the lights are those from which the band goes on.
void Room::show_count(FrameInput& input) {
  if (!goes_on_at_)
    return;
  const auto moment = snapshot_.timeline->performance.at(*goes_on_at_);
  const auto tick = snapshot_.transport.tick_at(input.now);
  if (!snapshot_.away || !moment || tick >= *goes_on_at_)
    return goes_on_at_.reset();
  const auto& meter = moment->bar->meter;
  const auto gone = tick - (*goes_on_at_ - bar_length(meter));
  if (gone >= Ticks{})
    input.large = std::to_string(floor_div(gone, beat_length(meter)) + 1);
}

void Room::step_held(std::vector<Ticks> (*steps)(const song::Stretch&), int by) {
  const bool was_playing = conductor_.rolling() && !held_;
  if (!held_)
    hold();
  if (was_playing)
    return;
  held_ = stepped(steps(first_stretch()), *held_, by);
}

/// Another song, or a band that plays: nothing is held any more.
void Room::follow_held() {
  if (held_ && (held_song_ != snapshot_.song || (snapshot_.transport.rolling && !snapshot_.away)))
    held_.reset();
  if (held_ && *held_ >= first_stretch().end())
    held_ = first_stretch().start;
}

/// The set over the present chord, or its arpeggio where only that is shown. The band waits.
void Room::play_through() {
  if (through_)
    return through_.reset(), conductor_.end_replay();
  FrameInput input;
  input.snapshot = conductor_.snapshot();
  input.now = Clock::now();
  input.instrument = &instrument_;
  input.look = settings_.look;
  hold_still(input);
  const auto tick = shown_tick(input.snapshot, input.now);
  const auto moment = board_moment(input, tick);
  PlayThrough through;
  through.from = {static_cast<std::int64_t>(std::max(tick, 0.0))};
  through.notes = up_and_down(moment.view.notes, settings_.look.set_notes);
  if (through.notes.empty())
    return say("nothing is lit here");
  Replay replay;
  replay.timeline = input.snapshot.timeline;
  replay.song = input.snapshot.song;
  replay.messages = messages_of(through);
  replay.from = through.from;
  replay.to = through.to();
  if (input.snapshot.transport.rolling && !held_)
    left_at_ = through.from;
  through_still_ = held_ || input.snapshot.transport.rolling;
  conductor_.replay(std::move(replay));
  replayed_.reset();
  through_ = std::move(through);
}

/// The lights stay while the band is held or a set is played through.
void Room::hold_still(FrameInput& input) const {
  const auto at = held_ ? held_ : through_ ? std::optional(through_->from) : goes_on_at_;
  if (!at)
    return;
  auto& transport = input.snapshot.transport;
  transport = {};
  transport.rolling = held_ || goes_on_at_ || through_still_;
  transport.anchor_tick = *at;
  transport.anchor_time = input.now;
  transport.tempo = input.snapshot.timeline->tempo_at(transport.anchor_tick);
}

void Room::show_stage(FrameInput& input, std::vector<SoundingNote>& sounding) {
  follow_held();
  if (through_ && !snapshot_.away)
    through_.reset();
  input.chalk = &chalk_;
  if (held_ && input.notice.empty() && !settings_.look.neck_only)
    input.notice =
        lesson_ ? "held" : "held: F6 and F5 step the chords, F8 and F7 the beats, Space goes on";
  if (through_) {
    const auto tick = snapshot_.transport.tick_at(input.now);
    if (const auto* note = through_->at(tick)) {
      SoundingNote sounds;
      sounds.midi = note->midi.number;
      sounds.string = note->string;
      sounds.fret = note->fret;
      sounds.kind =
          note->role == neck::Role::landing ? ear::NoteClass::landing : ear::NoteClass::set;
      sounding.push_back(sounds);
      input.sounding = sounding;
      input.large = render::with_signs(ascii(note->degree));
    } else if (tick >= through_->to()) {
      through_.reset();
    }
  }
  show_count(input);
  hold_still(input);
}

/// To point, to hide and show, and down again.
void Room::take_up_chalk() {
  switch (chalk_mode_) {
  case ChalkMode::down:
    chalk_mode_ = ChalkMode::points;
    return say(
        "chalk: click or play a note to point, drag to circle, right button hides and shows");
  case ChalkMode::points:
    chalk_mode_ = ChalkMode::hides;
    return say("chalk: a click or a note that is played hides what is lit, and shows what is not");
  case ChalkMode::hides:
    chalk_mode_ = ChalkMode::down;
  }
  say("chalk laid down");
}

void Room::use_chalk(PlaceKey place) {
  if (chalk_mode_ == ChalkMode::hides)
    hide_or_show(chalk_, place, is_lit(frame().board, place));
  else
    point_at(chalk_, place);
}

/// The left button begins to draw; the right one hides and shows. False while the chalk lies.
bool Room::take_chalk(const render::MousePress& press) {
  if (chalk_mode_ == ChalkMode::down || top_page() != nullptr)
    return false;
  const auto shown = frame();
  const auto place = place_of(hit(shown, press.at));
  if (!place)
    return false;
  if (press.button == render::MouseButton::left)
    chalk_from_ = place;
  else
    hide_or_show(chalk_, *place, is_lit(shown.board, *place));
  return true;
}

/// Let go where it began, it points; elsewhere, it circles what lies between.
void Room::draw_chalk(const render::MouseRelease& release) {
  const auto from = std::exchange(chalk_from_, std::nullopt);
  if (!from)
    return;
  const auto to = place_of(hit(frame(), release.at));
  if (to && *to == *from)
    use_chalk(*from);
  else if (to)
    circle(chalk_, *from, *to);
}

} // namespace landfall::app
