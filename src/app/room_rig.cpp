#include "app/control_actions.hpp"
#include "app/first_start.hpp"
#include "app/input_page.hpp"
#include "app/learn_page.hpp"
#include "app/parts_page.hpp"
#include "app/rig_page.hpp"
#include "app/room.hpp"

#include <algorithm>

namespace landfall::app {
namespace {

constexpr int most_steps = 12;                          ///< At once, of an encoder that is spun.
constexpr std::chrono::milliseconds longest_reading{8}; ///< Of messages, before the next picture.

} // namespace

/// A bound control is heard as a control only: it neither lights nor is judged.
bool Room::take_messages() {
  bool any = false;
  auto* learning = dynamic_cast<LearnPage*>(top_page());
  auto* first = dynamic_cast<FirstStart*>(top_page());
  const auto enough = Clock::now() + longest_reading;
  for (midi::StampedMessage message; Clock::now() < enough && devices_.pop(message); any = true) {
    if (first != nullptr && midi::is_note_on(message.message))
      first->heard(desk_.port(message.input));
    const bool learned = learning != nullptr && learning->learn(message);
    if (learned && !midi::is_note_off(message.message)) // what was held before must end
      continue;
    if (!learned && controls_.take(message, desk_.port(message.input)))
      continue;
    record(message);
    for (const auto& event : desk_.read(message))
      hear(event, message.input);
  }
  const auto now = Clock::now();
  if (learning != nullptr)
    learning->advance(now);
  for (auto asked = controls_.next(now); asked; asked = controls_.next(now), any = true)
    perform(*asked);
  return any;
}

void Room::perform(const midi::Asked& asked) {
  changed_ = true;
  if (auto words = apply_value(conductor_, asked))
    return say(*std::move(words));
  auto action = action_named(asked.action);
  if (action && asked.steps < 0)
    action = opposite(*action);
  const int times = asked.steps == 0 ? 1 : std::min(std::abs(asked.steps), most_steps);
  for (int i = 0; action && i < times; ++i)
    perform(*action);
}

DeviceWish Room::device_wish() const {
  return {settings_.out,     settings_.in,     !settings_.own_sound,    settings_.teacher,
          control_map_,      listens_to_all_,  settings_.clock,         settings_.sends_clock,
          settings_.latency, settings_.routes, settings_.thru_channels, settings_.inputs};
}

void Room::wish_devices() {
  devices_.wish(device_wish());
}

/// Inputs that came, went or are read in another way; all of them while a control is learned.
void Room::follow_devices() {
  const auto* first = dynamic_cast<const FirstStart*>(top_page());
  const bool learning = shows<LearnPage>() || (first != nullptr && first->asks_for_input());
  if (learning != std::exchange(listens_to_all_, learning))
    wish_devices();
  auto state = devices_.state();
  const bool news = state.ports != device_state_.ports || state.notice != device_state_.notice ||
                    state.lists != device_state_.lists;
  changed_ = changed_ || news;
  if (state.inputs != device_state_.inputs)
    follow_inputs(state.inputs);
  device_state_ = std::move(state);
}

void Room::follow_inputs(const std::vector<InputInfo>& inputs) {
  const auto& before = device_state_.inputs;
  for (const auto& input : before)
    if (std::find(inputs.begin(), inputs.end(), input) == inputs.end()) {
      controls_.forget(input.number);
      if (input.role != InputRole::controls) // nobody lets go any more
        end_what_is_held(input.role == InputRole::teacher);
    }
  for (const auto& input : inputs)
    if (input.role == InputRole::player)
      remember_input(input.name, mode_wish_.over(setup_of(settings_.inputs, input.name)));
  desk_.follow(inputs, settings_.inputs);
}

void Room::end_what_is_held(bool by_teacher) {
  const auto now = Clock::now();
  (by_teacher ? teacher_hands_ : hands_).release_all(now, tick_now(now));
  (by_teacher ? teacher_ear_ : ear_).end_all(heard_at(now, 0));
}

/// What is as usual needs no remembering.
void Room::remember_input(const std::string& port, const midi::InputSetup& setup) {
  if (setup == setup_of(settings_.inputs, port))
    return;
  settings_.inputs[port] = setup;
  wish_devices();
  hands_.release_all(Clock::now(), tick_now(Clock::now()));
  desk_.follow(device_state_.inputs, settings_.inputs);
}

ChoiceList Room::ports_page() {
  auto list = port_list(device_state_.lists, settings_);
  add_part_rows(list, settings_.routes);
  add_input_rows(list, device_state_.inputs, settings_, device_state_.lists.inputs,
                 desk_.proposal());
  return list;
}

void Room::choose_input(const std::string& value) {
  if (value == "calibrate")
    return close_list(), perform(Action::calibrate);
  if (value.starts_with("teacher:")) {
    settings_.teacher = value.substr(8);
    wish_devices();
    say("opening the teacher's input");
  } else if (const auto changed =
                 changed_input(value, device_state_.inputs, settings_.inputs, desk_.proposal())) {
    remember_input(changed->first, changed->second);
    desk_.decline(changed->first); // the player has decided
    say(mode_words(changed->second));
  }
  show_ports_again();
}

/// The part's own page, or a change made there.
void Room::choose_part(const std::string& value) {
  const auto voice = voice_of(value);
  if (!voice)
    return;
  const auto routes = changed_routes(value, settings_.routes);
  const bool opens = value.find('=') == std::string::npos;
  if (!opens) {
    settings_.routes = routes;
    wish_devices();
    const auto route = routes.find(*voice);
    say(route == routes.end() ? "as usual" : route_words(route->second));
  }
  auto page = part_list(*voice, settings_.routes, device_state_.lists.outputs);
  opens ? show_list(std::move(page)) : show_list_again(std::move(page));
}

void Room::choose_clock(const std::string& value) {
  if (value == "send-clock") {
    settings_.sends_clock = !settings_.sends_clock;
    say(settings_.sends_clock ? "MIDI clock is sent" : "no MIDI clock is sent");
  } else {
    settings_.clock = value.substr(6);
    say(settings_.clock.empty() ? "no clock is followed" : "the band follows the clock");
  }
  wish_devices();
  show_ports_again();
}

void Room::use_controls(const midi::ControlMap& map) {
  control_map_ = map;
  controls_ = midi::Controls(map);
  wish_devices();
}

void Room::show_controls() {
  LearnPage::Links links;
  links.changed = [this](const midi::ControlMap& map) {
    use_controls(map);
    if (saves_)
      if (const auto reason = save_controls(map); !reason.empty())
        say("the controls could not be kept: " + reason);
  };
  links.say = [this](const std::string& line) { say(line); };
  links.port = [this](std::uint8_t input) { return desk_.port(input); };
  links.plays = [](std::uint8_t input) { return input < first_control_input; };
  toggle<LearnPage>(control_map_, std::move(links));
}

void Room::show_rig() {
  toggle<RigView>([this] {
    RigReading reading;
    reading.sent = conductor_.report();
    reading.clock = conductor_.clock_link().reading.read();
    reading.follows_clock = device_state_.follows_clock;
    reading.sends_clock = settings_.sends_clock;
    reading.ports = device_state_.ports;
    reading.low_latency = settings_.latency == midi::Latency::low;
    if (device_state_.xruns)
      reading.xruns = device_state_.xruns();
    reading.input = input_rate_.reading(Clock::now());
    reading.input_drops = devices_.input_drops();
    reading.frames = frame_times_->summary();
    reading.frame_histogram = frame_times_->histogram();
    reading.painter = window_->painter_name();
    return reading;
  });
}

bool Room::perform_rig(Action action) {
  if (action == Action::rig)
    return show_rig(), true;
  if (action != Action::controls)
    return false;
  return show_controls(), true;
}

} // namespace landfall::app
