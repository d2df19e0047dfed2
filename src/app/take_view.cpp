#include "app/take_view.hpp"

#include "app/phrase_files.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace landfall::app {
namespace {

constexpr std::array speeds{1.0, 0.75, 0.5};
constexpr std::array speed_words{"", "  ·  three quarters of the speed", "  ·  half speed"};
constexpr auto hints = "Space play  Left Right bar  PageUp PageDown four bars  , . loop from, to  "
                       "l no loop  ' slower  V keep as a phrase  Escape close";

} // namespace

TakeView::TakeView(std::unique_ptr<TakePicture> picture, std::vector<midi::PlannedMessage> messages,
                   Conductor& conductor)
    : picture_(std::move(picture)), messages_(std::move(messages)), conductor_(conductor),
      timeline_(std::make_shared<const practice::Timeline>(picture_->take().head.timeline)) {
  const auto& head = picture_->take().head;
  for (const auto& stretch : timeline_->performance.stretches())
    if (stretch.start < head.to)
      laid_out_.choruses.push_back(part(stretch.start));
  for (const auto& change : picture_->judgement().changes)
    if (change.verdict != ear::Verdict::rest)
      laid_out_.marks.push_back({part(change.at), change.verdict == ear::Verdict::landed});
}

void TakeView::let_go() {
  pause();
  close();
}

Ticks TakeView::present() const {
  const auto snapshot = conductor_.snapshot();
  return playing_ && snapshot.away ? snapshot.transport.tick_at(Clock::now()) : place_;
}

void TakeView::show(FrameInput& input) {
  const auto& head = picture_->take().head;
  place_ = std::clamp(present(), head.from, head.to);
  playing_ = playing_ && conductor_.snapshot().away;
  auto& snapshot = input.snapshot;
  snapshot.timeline = timeline_;
  snapshot.song = head.song;
  snapshot.choice = timeline_->choice_at(place_);
  if (!playing_)
    snapshot.transport = {true, place_, input.now, timeline_->tempo_at(place_), false, {}, {}};
  picture_->show(input, place_);
  input.reel = reel();
  input.hints = hints;
  input.notice = words();
}

/// 0 to 1 of the take.
double TakeView::part(Ticks at) const {
  const auto& head = picture_->take().head;
  return static_cast<double>((at - head.from).count) /
         static_cast<double>((head.to - head.from).count);
}

render::Reel TakeView::reel() const {
  auto reel = laid_out_;
  reel.at = part(place_);
  if (loop_)
    reel.loop = {part(loop_->first), part(loop_->second)};
  return reel;
}

void TakeView::click(const render::Hit& hit, render::MouseButton) {
  const auto* reel = std::get_if<render::HitReel>(&hit);
  if (reel == nullptr)
    return;
  const auto& head = picture_->take().head;
  scrubs_ = true;
  plays_on_ = plays_on_ || playing_;
  pause();
  const auto length = static_cast<double>((head.to - head.from).count);
  place_ = head.from + Ticks{std::llround(reel->at * length)};
}

void TakeView::drag(const render::Frame& frame, render::Size size, render::Point at) {
  const auto place = scrubs_ ? render::reel_at(frame, size, at) : std::nullopt;
  if (place)
    click(*place, render::MouseButton::left);
}

void TakeView::release() {
  scrubs_ = false;
  if (std::exchange(plays_on_, false))
    play();
}

std::string TakeView::words() const {
  if (!said_.empty())
    return said_;
  std::string text = "a take, ";
  const auto moment = timeline_->performance.at(place_);
  text += moment ? "chorus " + std::to_string(moment->stretch->chorus + 1) + " bar " +
                       std::to_string(moment->bar->number)
                 : "count-in";
  text += speed_words[speed_];
  return loop_ ? text + "  ·  looped" : text;
}

void TakeView::play() {
  const auto& head = picture_->take().head;
  Replay replay;
  replay.timeline = timeline_;
  replay.song = head.song;
  replay.messages = messages_;
  replay.speed = speeds[speed_];
  replay.loops = loop_.has_value();
  replay.from = loop_ ? loop_->first : place_;
  replay.to = loop_ ? loop_->second : head.to;
  if (!loop_ && replay.from + quarter >= head.to)
    replay.from = head.from;
  conductor_.replay(std::move(replay));
  playing_ = true;
}

void TakeView::pause() {
  place_ = present();
  if (playing_)
    conductor_.end_replay();
  playing_ = false;
}

void TakeView::go(Ticks place) {
  const auto& head = picture_->take().head;
  const bool on = playing_;
  pause();
  place_ = std::clamp(place, head.from, head.to);
  if (on)
    play();
}

/// To the bar line so many bars away; back from within a bar leads to its start.
void TakeView::move_bars(int bars) {
  const auto moment = timeline_->performance.at(std::max(present(), Ticks{}));
  if (!moment)
    return go(picture_->take().head.from);
  auto place = moment->bar_start();
  const auto length = song::bar_length(moment->bar->meter);
  go(place + length * bars);
}

/// Empty where there is none.
std::pair<Ticks, Ticks> TakeView::bar_here() const {
  const auto moment = timeline_->performance.at(std::max(present(), Ticks{}));
  if (!moment)
    return {};
  return {moment->bar_start(), moment->bar_start() + song::bar_length(moment->bar->meter)};
}

void TakeView::mark(bool first) {
  const auto [start, end] = bar_here();
  if (start == end)
    return;
  auto range = loop_.value_or(std::pair(start, end));
  (first ? range.first : range.second) = first ? start : end;
  loop_ = range.first < range.second ? range : std::pair(start, end);
  if (playing_)
    pause(), play();
}

void TakeView::slower() {
  const bool on = playing_;
  pause();
  speed_ = (speed_ + 1) % speeds.size();
  if (on)
    play();
}

/// What was played in the loop, or in this bar, as a phrase of the player's own.
void TakeView::keep_passage() {
  const auto [from, to] = loop_.value_or(bar_here());
  const auto kept = passage_of(*picture_, from, to);
  if (!kept)
    return void(said_ = kept.error());
  const auto path = keep_phrase(*kept);
  said_ = path ? "kept as " + path->stem().string() : path.error();
}

bool TakeView::press(const render::KeyPress& press) {
  said_.clear();
  if (press.control || press.alt)
    return false;
  constexpr std::array<std::pair<const char*, int>, 4> moves{
      {{"Left", -1}, {"Right", 1}, {"PageUp", -4}, {"PageDown", 4}}};
  for (const auto& [name, bars] : moves)
    if (press.name == name)
      return move_bars(bars), true;
  if (press.name == "Home" || press.name == "End")
    return go(press.name == "Home" ? Ticks{} : picture_->take().head.to), true;
  if (press.text == "'")
    return slower(), true;
  return false;
}

bool TakeView::perform(Action action) {
  said_.clear();
  switch (action) {
  case Action::keep_phrase:
    return keep_passage(), true;
  case Action::toggle_play:
    return playing_ ? pause() : play(), true;
  case Action::from_top:
    return go(picture_->take().head.from), true;
  case Action::loop_from:
    return mark(true), true;
  case Action::loop_to:
    return mark(false), true;
  case Action::loop_section:
    loop_.reset();
    return playing_ ? (pause(), play()) : void(), true;
  case Action::back:
  case Action::takes:
  case Action::quit:
  case Action::panic:
  case Action::theme:
  case Action::text_larger:
  case Action::text_smaller:
  case Action::left_handed:
  case Action::seen_by_player:
  case Action::true_spacing:
  case Action::full_screen:
  case Action::labels:
  case Action::help:
    return false;
  default:
    return true; // all else is of the performance
  }
}

} // namespace landfall::app
