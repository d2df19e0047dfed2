#include "app/frame_builder.hpp"

#include "app/band_page.hpp"
#include "app/setting.hpp"

#include <algorithm>
#include <cmath>

namespace landfall::app {
namespace {

Ticks whole(double tick) {
  return {static_cast<std::int64_t>(std::floor(tick))};
}

const song::ChordAt& chord_of(const song::Moment& moment) {
  return chord_at(*moment.stretch->form, moment.form_tick);
}

bool same(const std::optional<theory::Chord>& a, const std::optional<theory::Chord>& b) {
  return a.has_value() == b.has_value() && (!a || same_tones(*a, *b));
}

/// The first tick after `tick` where a chord is written, in whatever stretch that is.
Ticks next_written(const song::Performance& performance, Ticks tick) {
  const auto moment = performance.at(tick);
  if (!moment)
    return performance.end();
  const auto in_form = next_change(*moment->stretch->form, moment->form_tick);
  return std::min(tick + (in_form - moment->form_tick), moment->stretch->end());
}

std::string tempo_words(const Snapshot& snapshot, Ticks tick) {
  const auto tempo =
      snapshot.transport.rolling ? snapshot.timeline->tempo_at(tick) : snapshot.choice.tempo;
  return std::to_string(std::lround(beats_per_minute(tempo, snapshot.song->meter))) + " bpm";
}

render::Status build_status(const FrameInput& input, double tick) {
  const auto& snapshot = input.snapshot;
  const auto at = whole(tick);
  const auto choice =
      snapshot.transport.rolling ? snapshot.timeline->choice_at(at) : snapshot.choice;
  const auto setting = setting_of(*input.instrument, choice);
  const auto present = present_chord(snapshot.timeline->performance, std::max(at, Ticks{}));
  render::Status status;
  status.title = snapshot.song->title;
  status.key = key_words(choice.key);
  status.place = place_words(setting);
  status.set = set_words(setting, present.chord);
  if (!choice.target.all())
    status.set += " · " + target_words(choice.target);
  if (input.look.fading != practice::FadingSpeed::off)
    status.set += input.look.fading == practice::FadingSpeed::slow ? " · fading" : " · fading fast";
  status.tempo = tempo_words(snapshot, at);
  status.ports = input.ports;
  const auto moment = snapshot.timeline->performance.at(std::max(at, Ticks{}));
  status.feel = feel_words(moment ? moment->bar->feel : snapshot.song->feel);
  if (const auto words = arrangement_words(choice); !words.empty())
    status.feel += " · " + words;
  if (!snapshot.transport.rolling)
    status.running = render::Running::stopped;
  else if (tick < 0)
    status.running = render::Running::count_in;
  else
    status.running = render::Running::playing;
  if (moment && status.running == render::Running::playing)
    status.chorus = "chorus " + std::to_string(moment->stretch->chorus + 1);
  return status;
}

/// `Trade  E♭ · C shape · echo · medium`, and which turn it is.
void dress_status(render::Status& status, const TradeView& trade) {
  status.title = "Trade";
  status.place = status.place.substr(0, status.place.find(" · "));
  status.set = trade.kind;
  status.chorus =
      trade.turn == nullptr ? "" : "turn " + std::to_string(trade.turn->turn.number + 1);
}

/// The same place on another instrument, with what is played there. It has half the room.
render::OtherBoard build_other(FrameInput input, double tick) {
  const auto& other = *input.other;
  input.instrument = other.instrument;
  input.sounding = other.sounding;
  input.look.whole_board = false;
  input.fading.reset();
  const auto with = [](const char* who, const std::string& words) {
    return words.empty() ? who : std::string(who) + " · " + words;
  };
  return {build_board(input, tick), with("teacher", other.summary), "you"};
}

std::optional<int> count(const Snapshot& snapshot, double tick) {
  if (!snapshot.transport.rolling || tick >= 0)
    return std::nullopt;
  const auto beat = beat_length(snapshot.song->meter);
  const auto gone = whole(tick) + snapshot.timeline->count_in;
  if (gone < Ticks{})
    return std::nullopt;
  return static_cast<int>(floor_div(gone, beat)) % beats_in_bar(snapshot.song->meter) + 1;
}

} // namespace

PresentChord present_chord(const song::Performance& performance, Ticks tick) {
  PresentChord present;
  const auto moment = performance.at(tick);
  if (!moment)
    return present;
  present.chord = chord_of(*moment).chord;
  present.key = present.next_key = moment->bar->key;
  present.from = moment->bar_start() + chord_of(*moment).at;
  for (present.to = tick;;) {
    present.to = next_written(performance, present.to);
    const auto later = performance.at(present.to);
    if (!later)
      break;
    present.next = chord_of(*later).chord;
    present.next_key = later->bar->key;
    if (!same(present.next, present.chord))
      break;
  }
  return present;
}

double shown_tick(const Snapshot& snapshot, TimePoint now) {
  if (!snapshot.transport.rolling)
    return 0.0;
  const auto earliest = -static_cast<double>(snapshot.timeline->count_in.count);
  return std::max(snapshot.transport.exact_tick_at(now), earliest);
}

render::Frame build_frame(const FrameInput& input) {
  const double tick = shown_tick(input.snapshot, input.now);
  render::Frame frame;
  frame.theme = input.look.theme;
  frame.text_scale = input.look.text_scale;
  frame.status = build_status(input, tick);
  frame.lane = build_lane(input, tick);
  if (input.trade) {
    dress_for_trade(frame.lane, *input.trade, tick);
    dress_status(frame.status, *input.trade);
  }
  frame.board = build_board(input, tick);
  if (input.other)
    frame.other = build_other(input, tick);
  if (input.scene)
    frame.scene = build_scene(input, tick);
  frame.large = input.large;
  frame.count_in = count(input.snapshot, tick);
  frame.summary = input.summary;
  frame.timing = input.timing;
  frame.hints = input.hints;
  frame.reel = input.reel;
  frame.notice = input.notice;
  frame.message = input.message;
  frame.page = input.page;
  return frame;
}

} // namespace landfall::app
