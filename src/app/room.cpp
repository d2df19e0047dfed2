#include "app/room.hpp"

#include "app/help.hpp"
#include "app/input_page.hpp"
#include "app/own_sets.hpp"
#include "app/places_page.hpp"
#include "app/setting.hpp"
#include "render/layout.hpp"

#include <iostream>

namespace landfall::app {
namespace {

constexpr std::chrono::milliseconds idle_wait{8}; ///< A note must light within a frame.

practice::Session::Setup with_feels(practice::Session::Setup setup,
                                    std::shared_ptr<const band::FeelBook> feels) {
  setup.feels = std::move(feels);
  return setup;
}

} // namespace

Room::Room(std::unique_ptr<render::Window> window, Start start)
    : window_(std::move(window)), feels_(std::make_shared<LiveFeels>(start.feels)),
      settings_(start.settings), saved_(start.settings), instrument_(std::move(start.instrument)),
      saves_(start.saves), seed_(start.setup.seed), notice_(std::move(start.notice)),
      mode_wish_(start.mode), control_map_(std::move(start.controls)), controls_(control_map_),
      conductor_(with_feels(std::move(start.setup), feels_)), devices_(conductor_, device_wish()),
      history_(std::move(start.history)), snapshot_(conductor_.snapshot()) {
  if (!settings_.started_before && !start.lesson)
    show_first_questions();
  settings_.started_before = true;
  conductor_.keep_plans();
  recall_band();
  recall_teacher_instrument();
  if (start.lesson)
    open_lesson(*std::move(start.lesson));
  if (start.plays)
    conductor_.start();
  if (start.notes)
    open_notes(*start.notes);
}

Room::~Room() {
  if (const auto reason = save(); !reason.empty())
    std::cerr << "landfall: the settings could not be kept: " << reason << '\n';
}

void Room::run(const std::function<bool()>& stop_asked) {
  for (bool moved = false; !quit_ && !stop_asked();) {
    const bool moving = conductor_.rolling();
    changed_ = changed_ || moving != std::exchange(moved, moving); // it may end by itself
    changed_ = take_inputs(moving ? std::chrono::milliseconds(0) : idle_wait) || changed_;
    changed_ = take_messages() || changed_;
    close_closed_pages();
    const bool animated = moving || moves_by_itself();
    changed_ = changed_ || animated;
    look_at_feels();
    follow_devices();
    hear_background();
    follow_practice();
    follow_lesson();
    changed_ = changed_ || (!message_.empty() && Clock::now() > message_until_);
    if (std::exchange(changed_, false))
      draw();
    follow_notes();
    if (animated)
      window_->pace();
  }
  while (top_page() != nullptr)
    close_page();
  conductor_.stop();
  snapshot_ = conductor_.snapshot();
  listen_on();
  leave_lesson();
}

/// While the band is stopped: notes that fade, or a page.
bool Room::moves_by_itself() {
  const auto now = Clock::now();
  return hands_.fading(now) || teacher_hands_.fading(now) ||
         (top_page() != nullptr && top_page()->moving());
}

bool Room::take_inputs(std::chrono::milliseconds wait) {
  const auto inputs = window_->events(wait);
  for (const auto& input : inputs)
    take(input);
  drag();
  return !inputs.empty();
}

void Room::draw() {
  const auto begin = Clock::now();
  auto picture = frame();
  status_ = picture.status;
  const auto list = render::layout(picture, window_->size(), window_->fonts());
  ++frames_laid_out_;
  if (window_->present(list))
    frame_times_->add(Clock::now() - begin);
}

std::string Room::notice() const {
  if (!device_state_.notice.empty())
    return device_state_.notice;
  if (!notice_.empty())
    return notice_;
  if (const auto proposal = desk_.proposal())
    return proposal_words(*proposal);
  if (const auto problem = history_.notice(); !problem.empty())
    return problem;
  return own_sets_problem();
}

render::Frame Room::frame() {
  const auto now = Clock::now();
  snapshot_ = conductor_.snapshot();
  const auto tick = Ticks{static_cast<std::int64_t>(shown_tick(snapshot_, now))};
  for (auto* hands : {&hands_, &teacher_hands_})
    hands->tidy(now, tick - quarter * 32);
  auto sounding = hands_.sounding(now);
  const auto played = hands_.played();
  if (now > message_until_)
    message_.clear();
  listen_on();
  listen_to_teacher();
  FrameInput input;
  input.snapshot = snapshot_;
  input.now = now;
  input.instrument = &instrument_;
  input.look = settings_.look;
  input.sounding = sounding;
  input.played = played;
  input.ports = device_state_.ports;
  input.hints = typing_notes_ ? "the computer's keys play notes  F2 back to commands"
                              : usual_hints(snapshot_.transport.rolling);
  input.notice = notice();
  input.message = message_;
  input.fading = history_.fading();
  show_heard(input);
  show_teacher(input);
  if (snapshot_.away && replayed_) {
    replayed_->show(input, tick);
    input.notice = "your last chorus, then back to where you were";
  } else if (!snapshot_.away) {
    trade_on();
    show_trade(input, sounding);
  }
  show_lesson(input);
  show_stage(input, sounding);
  if (places_ && instrument_.kind == neck::Instrument::Kind::fretted)
    input.page = build_places(input);
  if (auto* page = top_page())
    page->show(input);
  return build_frame(input);
}

practice::Choice Room::choice() const {
  return conductor_.snapshot().choice;
}

std::optional<Ticks> Room::tick_now(TimePoint when) const {
  if (!snapshot_.transport.rolling)
    return std::nullopt;
  return snapshot_.transport.tick_at(when);
}

std::optional<song::Moment> Room::here() const {
  const auto tick = tick_now(Clock::now()).value_or(Ticks{});
  return snapshot_.timeline->performance.at(std::max(tick, Ticks{}));
}

void Room::say(std::string message) {
  message_ = std::move(message);
  message_until_ = Clock::now() + std::chrono::milliseconds(2200);
  changed_ = true;
}

std::string Room::save() {
  if (!saves_)
    return "";
  remember_song();
  remember_band();
  const auto chosen = choice();
  settings_.key = ascii(chosen.key);
  settings_.shape = chosen.place.shape ? std::string(1, *chosen.place.shape) : "";
  settings_.position = chosen.place.position;
  settings_.set = chosen.set.name;
  settings_.target = chosen.target.all() ? "" : target_text(chosen.target);
  settings_.over = chosen.over == theory::Over::key ? "key" : "chord";
  settings_.beats_per_minute = beats_per_minute(chosen.tempo, snapshot_.song->meter);
  if (settings_ == saved_)
    return "";
  saved_ = settings_;
  return save_settings(settings_file(), settings_);
}

} // namespace landfall::app
