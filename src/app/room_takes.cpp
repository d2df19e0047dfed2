#include "app/chunks.hpp"
#include "app/data.hpp"
#include "app/room.hpp"
#include "app/take_view.hpp"
#include "app/takes_page.hpp"

#include <algorithm>

namespace landfall::app {
namespace {

namespace fs = std::filesystem;

/// The last chorus that is over at `end`; all there is of the first where none is.
std::pair<Ticks, Ticks> last_chorus(const song::Performance& performance, Ticks end) {
  std::map<int, std::pair<Ticks, Ticks>> choruses;
  for (const auto& stretch : performance.stretches()) {
    auto& chorus = choruses.try_emplace(stretch.chorus, stretch.start, stretch.end()).first->second;
    chorus.second = std::max(chorus.second, stretch.end());
  }
  std::pair<Ticks, Ticks> last{Ticks{}, end};
  for (const auto& [ignored, chorus] : choruses)
    if (chorus.second <= end + quarter)
      last = chorus;
  return last;
}

/// What band and player sent within a passage.
std::vector<midi::PlannedMessage> passage(const Recording& recording, const band::FeelBook& feels,
                                          std::pair<Ticks, Ticks> range) {
  Recorded recorded;
  recorded.timeline = &recording.take.head.timeline;
  recorded.plans = recording.band;
  recorded.feels = &feels;
  recorded.from = range.first;
  recorded.to = range.second;
  recorded.player = recording.take.player;
  return messages_of(file_of(recorded), range.first);
}

} // namespace

bool Room::perform_takes(Action action) {
  switch (action) {
  case Action::takes:
    return show_takes(), true;
  case Action::last_chorus:
    return hear_last_chorus(), true;
  case Action::loop_change:
    return loop_last_change(), true;
  default:
    return false;
  }
}

/// While something is played back, only some of the actions mean anything.
bool Room::is_of_replay(Action action) {
  if (auto* view = dynamic_cast<TakeView*>(top_page()))
    return view->perform(action);
  if (!conductor_.snapshot().away)
    return false;
  switch (action) {
  case Action::word_landed:
  case Action::word_missed:
  case Action::loop_from:
  case Action::loop_to:
  case Action::loop_section:
  case Action::loop_change:
    return say("this is played back"), true;
  default:
    return false;
  }
}

/// What is played meanwhile is not heard; but what is let go is let go where the band was left.
bool Room::is_heard(bool note_on) const {
  return snapshot_.transport.rolling && (!snapshot_.away || (left_at_ && !note_on));
}

void Room::show_takes() {
  if (dynamic_cast<TakeView*>(top_page()) != nullptr)
    return close_page();
  TakesPage::Calls calls;
  calls.open = [this](const auto& take) { open_take(take); };
  calls.say = [this](const auto& words) { say(words); };
  calls.post = [this](auto job) { background_.post(std::move(job)); };
  open(std::make_unique<TakesPage>(takes_folder(), feels_, std::move(calls)));
}

void Room::open_take(const fs::path& path) {
  const auto bytes = read_file(path);
  if (!bytes.error.empty())
    return say(bytes.error);
  auto read = read_take(bytes.text);
  if (!read.take)
    return say(read.error.empty() ? "this is no take of ours" : read.error);
  conductor_.stop();
  snapshot_ = conductor_.snapshot();
  listen_on();
  auto messages = messages_of(read.file, read.take->head.from);
  close_page();
  open(std::make_unique<TakeView>(std::make_unique<TakePicture>(*std::move(read.take), feels_),
                                  std::move(messages), conductor_));
}

/// And back to where the band was; asked for once more, at once.
void Room::hear_last_chorus() {
  snapshot_ = conductor_.snapshot();
  if (snapshot_.away)
    return conductor_.end_replay();
  auto recording = last_recording_;
  if (snapshot_.transport.rolling) {
    listen_on();
    const auto now = snapshot_.transport.tick_at(Clock::now());
    if (const auto performed = conductor_.performing(); performed && now > quarter)
      recording = std::make_shared<const Recording>(recorder_.finish(*performed, now));
    left_at_ = now;
  }
  if (!recording)
    return say("nothing was played yet");
  const auto& head = recording->take.head;
  const auto range = last_chorus(head.timeline.performance, head.to);
  Replay replay;
  replay.timeline = std::make_shared<const practice::Timeline>(head.timeline);
  replay.song = head.song;
  replay.messages = passage(*recording, *feels_, range);
  std::tie(replay.from, replay.to) = range;
  conductor_.replay(std::move(replay));
  replayed_ = std::make_shared<TakePicture>(recording->take, feels_);
  snapshot_ = conductor_.snapshot();
  say("your last chorus");
}

/// The last change with two bars before it; at the top of the form they follow it, and lead
/// round to it.
void Room::loop_last_change() {
  if (choice().loop)
    return loop(std::nullopt);
  const auto moment = here();
  if (!moment || !snapshot_.transport.rolling)
    return say("nothing plays");
  const auto& bars = moment->stretch->form->bars;
  int found = 1;
  for (const auto& bar : bars)
    for (const auto& change : bar.chords)
      if (change.fresh && change.chord && bar.start + change.at <= moment->form_tick)
        found = bar.number;
  const int count = static_cast<int>(bars.size());
  loop(found > 2 ? practice::BarRange{found - 2, found}
                 : practice::BarRange{1, std::min(3, count)});
}

} // namespace landfall::app
