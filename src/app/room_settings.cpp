#include "app/control_actions.hpp"
#include "app/first_start.hpp"
#include "app/room.hpp"
#include "app/settings_page.hpp"
#include "midi/message.hpp"

#include <array>
#include <cmath>

namespace landfall::app {

std::string Room::latency_words() const {
  const auto latency = setup_of(settings_.inputs, desk_.port(player_input)).latency;
  if (!latency)
    return "";
  const std::chrono::duration<double, std::milli> ms = *latency;
  return std::to_string(std::lround(ms.count())) + " ms";
}

void Room::show_settings() {
  toggle<SettingsView>(
      [this] {
        SettingsState state;
        state.ports = device_state_.ports;
        state.full_screen = window_->full_screen();
        const auto latency = latency_words();
        if (device_state_.has_input)
          state.latency = latency.empty() ? "not measured yet" : latency;
        return settings_list(settings_, instrument_, state);
      },
      [this](const std::string& value) { choose(value); });
}

void Room::show_first_questions() {
  FirstStart::Links links;
  links.state = [this] {
    return FirstStart::State{settings_, device_state_.lists, device_state_.has_input,
                             latency_words()};
  };
  const auto played = std::make_shared<bool>(false); // until it was stopped for the measuring
  links.choose = [this, played](const std::string& value) {
    *played = *played || (value == "calibrate" && conductor_.rolling());
    choose(value);
    if (value == "instrument:keyboard")
      conductor_.apply(practice::SetKey{{{theory::Letter::c, 0}, choice().key.minor}});
  };
  links.done = [this, played] {
    if (*played && !conductor_.rolling())
      conductor_.start();
  };
  open(std::make_unique<FirstStart>(std::move(links)));
}

/// A row of the page of settings; false for any other value.
bool Room::choose_setting(const std::string& value) {
  if (value == "tuning") {
    show_list(tuning_list(settings_.instrument));
  } else if (value == "capo:1" || value == "capo:-1") {
    move_capo(value == "capo:1" ? 1 : -1);
  } else if (value == "test-sound") {
    play_test_sound();
  } else if (value == "first-questions") {
    close_page();
    show_first_questions();
  } else if (value.starts_with("do:")) {
    if (const auto action = action_named(value.substr(3)))
      perform(*action);
  } else {
    return false;
  }
  return true;
}

/// After the output had time to open.
void Room::play_test_sound() {
  constexpr std::array notes{60, 64, 67, 72};
  constexpr int velocity = 80;
  test_sound_ = std::make_unique<Clicker>(
      Clock::now() + std::chrono::milliseconds(600), std::chrono::milliseconds(300),
      static_cast<int>(notes.size()) + 1, [this, notes](int number) {
        const auto at = static_cast<std::size_t>(number);
        if (number > 0)
          conductor_.play_now(midi::note_off(lead_channel, notes.at(at - 1)), Clock::now());
        if (at < notes.size())
          conductor_.play_now(midi::note_on(lead_channel, notes.at(at), velocity), Clock::now());
      });
}

} // namespace landfall::app
