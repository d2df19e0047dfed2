#include "app/library.hpp"
#include "app/own_sets.hpp"
#include "app/room.hpp"

#include <algorithm>

namespace landfall::app {

bool Room::teacher_is_there() const {
  return std::ranges::any_of(device_state_.inputs, [](const InputInfo& input) {
    return input.role == InputRole::teacher;
  });
}

const neck::Instrument& Room::teacher_instrument() const {
  return teacher_instrument_ ? *teacher_instrument_ : instrument_;
}

/// What a teacher plays lights on their own board and is judged for itself.
void Room::hear_teacher(const midi::InputEvent& event) {
  const auto setup = desk_.setup(teacher_input);
  const auto at = [&](TimePoint time, int channel) {
    return snapshot_.transport.tick_at(time - midi::latency_of(setup, channel));
  };
  const bool heard = snapshot_.transport.rolling && !snapshot_.away;
  if (const auto* note = std::get_if<midi::NoteEvent>(&event)) {
    const Hands::Source source{note->channel, note->note};
    auto strike = strike_at(note->time, note->note);
    strike.string = note->string;
    if (note->string)
      strike.fret = fret_of(teacher_instrument(), *note->string, note->note);
    if (note->on)
      draw_by_playing(note->note, {});
    if (note->on)
      teacher_hands_.strike(source, strike);
    else
      teacher_hands_.release(source, note->time, tick_now(note->time));
    if (heard)
      teacher_ear_.hear(event, at(note->time, note->channel));
  } else if (const auto* bend = std::get_if<midi::BendEvent>(&event)) {
    teacher_hands_.bend(bend->channel, bend->cents / 100.0);
    if (heard)
      teacher_ear_.hear(event, at(bend->time, bend->channel));
  } else if (const auto* pedal = std::get_if<midi::PedalEvent>(&event); pedal && heard) {
    teacher_ear_.hear(event, at(pedal->time, pedal->channel));
  }
}

/// Each frame: a new performance, or a teacher who joins it, begins with a fresh ear.
void Room::listen_to_teacher() {
  const auto& transport = snapshot_.transport;
  if (snapshot_.away || !transport.rolling || !teacher_is_there())
    return;
  if (std::exchange(taught_run_, snapshot_.run) != snapshot_.run) {
    auto setup = ear_setup();
    setup.instrument = std::make_shared<const neck::Instrument>(teacher_instrument());
    setup.input = desk_.setup(teacher_input);
    teacher_ear_.begin(std::move(setup));
  }
  const auto heard = Clock::now() - hearing_delay(desk_.setup(teacher_input));
  teacher_ear_.advance(*snapshot_.timeline, transport.tick_at(heard));
  teacher_ear_.take_choruses(); // they are not the player's history
}

/// Two boards side by side, the teacher's at the left.
void Room::show_teacher(FrameInput& input) {
  if (!teacher_is_there() || places_)
    return;
  teacher_sounding_ = teacher_hands_.sounding(input.now);
  input.other = OtherPlayer{&teacher_instrument(), teacher_sounding_, teacher_ear_.summary()};
  input.look.whole_board = false;
}

/// The player's own, then each that there is.
void Room::next_teacher_instrument() {
  const auto names = instrument_names();
  const auto now = std::ranges::find(names, settings_.teacher_instrument);
  const bool last = now != names.end() && now + 1 == names.end();
  const auto next = settings_.teacher_instrument.empty() ? names.begin()
                    : now == names.end() || last         ? names.end()
                                                         : now + 1;
  settings_.teacher_instrument = next == names.end() ? "" : *next;
  recall_teacher_instrument();
  show_ports_again();
}

void Room::recall_teacher_instrument() {
  teacher_instrument_.reset();
  if (settings_.teacher_instrument.empty())
    return;
  if (auto instrument = load_instrument(settings_.teacher_instrument))
    teacher_instrument_ = *std::move(instrument);
}

} // namespace landfall::app
