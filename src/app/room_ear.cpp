#include "app/own_sets.hpp"
#include "app/room.hpp"
#include "midi/message.hpp"

#include <algorithm>

namespace landfall::app {
namespace {

constexpr std::size_t verdicts_shown = 16;
/// A performance with so many of the player's notes that lasted so long is kept unasked.
constexpr std::size_t fewest_notes = 24;
constexpr std::chrono::minutes keeps_from{2};

bool is_aimed_at(const std::optional<theory::Chord>& chord, const neck::Target& target, int pitch) {
  const auto degree = chord ? degree_in(*chord, pitch) : std::nullopt;
  return degree && neck::aims_at(target, *degree);
}

/// By the present chord, or by the one that comes within an eighth, whatever is better.
ear::NoteClass class_of(const song::Performance& performance, const practice::Choice& choice,
                        Ticks tick, int midi) {
  const auto present = present_chord(performance, tick);
  const int pitch = pitch_class(theory::MidiNote{midi});
  if (is_aimed_at(present.chord, choice.target, pitch) ||
      is_aimed_at(present_chord(performance, tick + eighth).chord, choice.target, pitch))
    return ear::NoteClass::landing;
  const auto set =
      resolved(choice.set, choice.over, present.key, present.chord, own_sets().fitting);
  const bool inside = set.contains(pitch) || (present.chord && degree_in(*present.chord, pitch));
  return inside ? ear::NoteClass::set : ear::NoteClass::outside;
}

} // namespace

ear::NoteClass Room::class_at(TimePoint when, int midi) const {
  const auto tick = std::max(tick_now(when).value_or(Ticks{}), Ticks{});
  const auto choice =
      snapshot_.transport.rolling ? snapshot_.timeline->choice_at(tick) : snapshot_.choice;
  return class_of(snapshot_.timeline->performance, choice, tick, midi);
}

Listener::Setup Room::ear_setup() const {
  Listener::Setup setup;
  setup.instrument = std::make_shared<const neck::Instrument>(instrument_);
  setup.feels = feels_;
  setup.fitting = &own_sets().fitting;
  setup.input = desk_.setup(player_input);
  return setup;
}

/// Follows the performance: a new one begins with a fresh ear, and each frame judges what has
/// become final.
void Room::listen_on() {
  const auto& transport = snapshot_.transport;
  if (heard_run_ != 0 && (!transport.rolling || snapshot_.run != heard_run_))
    performance_is_over();
  if (snapshot_.away)
    return;
  left_at_.reset();
  if (transport.rolling && heard_run_ == 0)
    begin_to_listen();
  if (transport.rolling) {
    heard_transport_ = transport;
    heard_timeline_ = snapshot_.timeline;
    const auto all_heard = Clock::now() - hearing_delay(desk_.setup(player_input));
    ear_.advance(*snapshot_.timeline, transport.tick_at(all_heard));
  }
  for (auto& chorus : ear_.take_choruses())
    chorus_is_over(chorus);
}

void Room::begin_to_listen() {
  heard_run_ = snapshot_.run;
  const auto setup = ear_setup();
  recorder_.begin(heard_run_, {setup.instrument, setup.input, setup.split});
  ear_.begin(setup);
  keeps_take_ = false;
}

void Room::performance_is_over() {
  const auto performed = conductor_.performed();
  const auto run = std::exchange(heard_run_, 0);
  if (!performed || performed->run != run)
    return;
  const auto end = left_at_ ? *left_at_ : heard_transport_.tick_at(Clock::now());
  ear_.end(*performed->timeline, end);
  end_trade(performed->timeline, run, end);
  last_recording_ = std::make_shared<const Recording>(recorder_.finish(*performed, end));
  const auto length = duration_of(end, heard_transport_.tempo);
  if (keeps_take_ || (last_recording_->notes >= fewest_notes && length >= keeps_from))
    keep_take(last_recording_);
}

void Room::chorus_is_over(const LiveEar::Chorus& chorus) {
  remember(chorus);
}

/// What the player's input says, for ear and take: with its latency taken off.
void Room::record(const midi::StampedMessage& message) {
  if (message.input != player_input || !is_heard(midi::is_note_on(message.message)))
    return;
  recorder_.hear(heard_at(message.time, midi::channel_of(message.message)), message.message);
}

void Room::tell_ear(const midi::InputEvent& event, TimePoint time, int channel) {
  const auto* note = std::get_if<midi::NoteEvent>(&event);
  if (is_heard(note != nullptr && note->on))
    ear_.hear(event, heard_at(time, channel));
}

Ticks Room::heard_at(TimePoint time, int channel) const {
  if (snapshot_.away && left_at_)
    return *left_at_;
  return snapshot_.transport.tick_at(time - midi::latency_of(desk_.setup(player_input), channel));
}

/// Notes of the computer's keys and the mouse are the player's too.
void Room::tell_ear_typed(int midi, int velocity, bool on) {
  if (!is_heard(on))
    return;
  midi::NoteEvent note;
  note.time = Clock::now();
  note.channel = midi::channel_count - 1;
  note.note = static_cast<std::uint8_t>(midi);
  note.velocity = static_cast<std::uint8_t>(velocity);
  note.on = on;
  const auto at = left_at_ ? *left_at_ : snapshot_.transport.tick_at(note.time);
  ear_.hear(note, at);
  recorder_.hear(at, on ? midi::note_on(note.channel, midi, velocity)
                        : midi::note_off(note.channel, midi));
}

/// The take that is asked for is kept where it ends; one that has ended, at once.
void Room::ask_for_take() {
  if (snapshot_.transport.rolling) {
    keeps_take_ = true;
    return say("this take will be kept");
  }
  if (!last_recording_)
    return say("nothing was played yet");
  keep_take(last_recording_);
}

/// Once each.
void Room::keep_take(const std::shared_ptr<const Recording>& recording) {
  if (kept_recording_ == recording)
    return say("this take is kept already");
  kept_recording_ = recording;
  background_.post(
      [recording, feels = feels_,
       name = take_file_name(recording->take.head.song->title, std::chrono::system_clock::now())] {
        return save_recording(*recording, *feels, takes_folder(), name);
      });
}

void Room::hear_background() {
  for (auto& line : background_.take_lines())
    say(std::move(line));
}

void Room::show_heard(FrameInput& input) const {
  const auto& changes = ear_.changes();
  input.judged = std::span(changes).last(std::min(changes.size(), verdicts_shown));
  input.summary = ear_.summary();
  if (ear_.left_position())
    input.summary += std::string(input.summary.empty() ? "" : "  ·  ") + "outside the position";
  input.timing = ear_.timing();
}

/// The player's own word on the last change.
void Room::own_word(bool landed) {
  if (!snapshot_.transport.rolling)
    return say("nothing plays");
  if (!ear_.say(landed, snapshot_.transport.tick_at(Clock::now())))
    return say("no change to speak of");
  say(landed ? "landed, you say" : "missed, you say");
}

bool Room::perform_ear(Action action) {
  switch (action) {
  case Action::word_landed:
    return own_word(true), true;
  case Action::word_missed:
    return own_word(false), true;
  case Action::keep_take:
    return ask_for_take(), true;
  case Action::calibrate:
    return calibrate(), true;
  default:
    return false;
  }
}

} // namespace landfall::app
