#include "app/own_sets.hpp"
#include "app/room.hpp"

#include <algorithm>

namespace landfall::app {
namespace {

constexpr std::size_t verdicts_shown = 16;

ear::NoteClass class_of(const song::Performance& performance, const practice::Choice& choice,
                        Ticks tick, int midi) {
  const auto present = present_chord(performance, tick);
  const int pitch = pitch_class(theory::MidiNote{midi});
  if (present.chord && degree_in(*present.chord, pitch))
    return ear::NoteClass::landing;
  const auto set =
      resolved(choice.set, choice.over, present.key, present.chord, own_sets().fitting);
  return set.contains(pitch) ? ear::NoteClass::set : ear::NoteClass::outside;
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
  if (!transport.rolling && ear_.listening())
    ear_.end(*conductor_.performed_timeline(), heard_until_);
  if (transport.rolling && (snapshot_.run != heard_run_ || !ear_.listening())) {
    heard_run_ = snapshot_.run;
    ear_.begin(ear_setup());
  }
  if (transport.rolling) {
    const auto setup = desk_.setup(player_input);
    const auto longest =
        *std::max_element(setup.string_latency.begin(), setup.string_latency.end());
    const auto heard_until = Clock::now() - setup.latency.value_or(Nanoseconds{}) - longest;
    heard_until_ = transport.tick_at(heard_until);
    ear_.advance(*snapshot_.timeline, heard_until_);
  }
  for (auto& chorus : ear_.take_choruses())
    chorus_is_over(chorus);
}

void Room::chorus_is_over(const LiveEar::Chorus& /*chorus*/) {}

/// What the player does, for the ear: with the input's latency taken off.
void Room::tell_ear(const midi::InputEvent& event, TimePoint time, int channel) {
  if (!snapshot_.transport.rolling)
    return;
  const auto latency = midi::latency_of(desk_.setup(player_input), channel);
  ear_.hear(event, snapshot_.transport.tick_at(time - latency));
}

/// Notes of the computer's keys and the mouse are the player's too.
void Room::tell_ear_typed(int midi, int velocity, bool on) {
  midi::NoteEvent note;
  note.time = Clock::now();
  note.channel = midi::channel_count - 1;
  note.note = static_cast<std::uint8_t>(midi);
  note.velocity = static_cast<std::uint8_t>(velocity);
  note.on = on;
  if (snapshot_.transport.rolling)
    ear_.hear(note, snapshot_.transport.tick_at(note.time));
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
  default:
    return false;
  }
}

} // namespace landfall::app
