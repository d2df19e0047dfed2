#include "app/inputs.hpp"

#include "app/outputs.hpp"
#include "midi/message.hpp"
#include "theory/words.hpp"

#include <algorithm>
#include <utility>

namespace landfall::app {
namespace {

using Lock = std::lock_guard<std::mutex>;

constexpr std::chrono::seconds trouble_stays{4};

bool is_through(const std::string& name) {
  return lower_case(name).find("through") != std::string::npos;
}

bool has_name(const std::vector<InputInfo>& list, const std::string& name) {
  return std::any_of(list.begin(), list.end(), [&](const auto& info) { return info.name == name; });
}

bool controls_live_on(const midi::ControlMap& controls, const std::string& name) {
  return std::any_of(controls.bindings.begin(), controls.bindings.end(), [&](const auto& binding) {
    return !binding.device.empty() && midi::is_device(binding.device, name);
  });
}

/// The port that a wish names; "" if it is not there.
std::string named(const std::string& wish, const std::vector<std::string>& names) {
  if (wish == "virtual" || wish == "none")
    return wish == "none" ? "" : wish;
  const int at = midi::find_port(names, wish);
  return at < 0 ? "" : names[static_cast<std::size_t>(at)];
}

/// Without a wish, the first that an instrument may stand behind: rather not a bound foot switch.
std::string first_instrument(const InputWish& wish, const std::vector<std::string>& names) {
  const auto find = [&](bool controls) {
    return std::find_if(names.begin(), names.end(), [&](const auto& name) {
      return !is_through(name) && (controls || !controls_live_on(wish.controls, name));
    });
  };
  if (const auto at = find(false); at != names.end())
    return *at;
  const auto at = find(true);
  return at == names.end() ? "" : *at;
}

std::string clock_among(const std::vector<std::string>& names, const InputWish& wish) {
  return wish.clock.empty() ? "" : named(wish.clock, names);
}

std::uint8_t free_number(const std::vector<InputInfo>& wanted, const std::vector<InputInfo>& open) {
  for (std::uint8_t number = first_control_input; number < most_inputs; ++number) {
    const auto takes = [&](const auto& info) { return info.number == number; };
    if (std::none_of(wanted.begin(), wanted.end(), takes) &&
        std::none_of(open.begin(), open.end(), takes))
      return number;
  }
  return most_inputs;
}

} // namespace

std::vector<InputInfo> wanted_inputs(const InputWish& wish, const std::vector<std::string>& names,
                                     const std::vector<InputInfo>& open) {
  std::vector<InputInfo> wanted;
  auto others = names;
  if (wish.player != wish.teacher)
    std::erase(others, wish.teacher); // what stands in for the player's is not the teacher's own
  const auto player =
      wish.player.empty() ? first_instrument(wish, names) : named(wish.player, others);
  if (!player.empty())
    wanted.push_back({player_input, InputRole::player, player});
  others = names;
  std::erase(others, player);
  if (const auto teacher = named(wish.teacher, others); !teacher.empty())
    wanted.push_back({teacher_input, InputRole::teacher, teacher});
  const auto clock = clock_among(names, wish);
  auto all = names;
  if (clock == "virtual")
    all.push_back(clock);
  for (const auto& name : all) {
    const bool meant =
        controls_live_on(wish.controls, name) || (wish.all && !is_through(name)) || name == clock;
    if (!meant || has_name(wanted, name))
      continue;
    const auto present = std::find_if(open.begin(), open.end(), [&](const auto& info) {
      return info.role == InputRole::controls && info.name == name;
    });
    const auto number = present != open.end() ? present->number : free_number(wanted, open);
    if (number < most_inputs)
      wanted.push_back({number, InputRole::controls, name});
  }
  return wanted;
}

bool Inputs::tend(const InputWish& wish, const std::vector<midi::PortInfo>& ports) {
  std::vector<std::string> names;
  for (const auto& port : ports)
    names.push_back(port.name);
  const auto before = open();
  const auto wanted = wanted_inputs(wish, names, before);
  const bool left_behind = close_unwanted(wanted);
  const auto kept = open();
  for (const auto& info : wanted)
    if (std::find(kept.begin(), kept.end(), info) == kept.end())
      open(info);
  connect_clock(wish);
  note_missing(wish, before);
  for (auto& port : ports_)
    port.port->controls().set(wish.controls.bindings, port.info.name);
  return left_behind;
}

bool Inputs::close_unwanted(const std::vector<InputInfo>& wanted) {
  std::vector<Port> gone;
  {
    const Lock lock(mutex_);
    const auto unwanted =
        std::stable_partition(ports_.begin(), ports_.end(), [&](const Port& port) {
          return !port.lost && !port.loose &&
                 std::find(wanted.begin(), wanted.end(), port.info) != wanted.end();
        });
    for (auto port = unwanted; port != ports_.end(); ++port) {
      let_notes_go(port->info.number, Clock::now());
      if (port->loose)
        say(short_name(port->info.name) + " was unplugged and is back", Clock::now());
    }
    std::move(unwanted, ports_.end(), std::back_inserter(gone));
    ports_.erase(unwanted, ports_.end());
  }
  return let_go(std::move(gone));
}

bool Inputs::close() {
  std::vector<Port> all;
  {
    const Lock lock(mutex_);
    all.swap(ports_);
  }
  return let_go(std::move(all));
}

/// As MIDI 1.0 has it for a lost connection: all notes end, all controllers rest.
void Inputs::let_notes_go(std::uint8_t input, TimePoint now) {
  if (letting_go_.size() > midi::InputIntake::capacity)
    return; // nobody listens
  for (int channel = 0; channel < midi::channel_count; ++channel)
    for (const int number : {midi::controller::all_notes_off, midi::controller::reset_all})
      letting_go_.push_back({now, midi::control(channel, number, 0), input});
}

/// What has happened to an input since the last look; empty if nothing has.
std::string Inputs::trouble(Port& port, TimePoint now) {
  const bool silent = port.port->sensing().lost(now);
  if (std::exchange(port.silent, silent) != silent && silent)
    return short_name(port.info.name) + " has fallen silent: its notes were ended";
  if (port.port->end_broken_exclusive(now))
    return short_name(port.info.name) + " broke off a message: its notes were ended";
  const auto before = std::exchange(port.drops, port.port->drops());
  if (port.drops == before)
    return "";
  return short_name(port.info.name) +
         " sends more than can be read: " + std::to_string(port.drops) + " messages lost";
}

void Inputs::say(std::string line, TimePoint now) {
  trouble_ = std::move(line);
  trouble_until_ = now + trouble_stays;
}

std::vector<std::uint8_t> Inputs::watch(TimePoint now) {
  std::vector<std::uint8_t> ended;
  const Lock lock(mutex_);
  for (auto& port : ports_) {
    auto line = trouble(port, now);
    if (line.empty())
      continue;
    say(std::move(line), now);
    let_notes_go(port.info.number, now);
    ended.push_back(port.info.number);
  }
  const bool stays =
      std::any_of(ports_.begin(), ports_.end(), [](const Port& port) { return port.silent; });
  if (!stays && now > trouble_until_)
    trouble_.clear();
  return ended;
}

std::string Inputs::notice() const {
  return notice_.empty() ? trouble_ : notice_;
}

/// A sound server that has died takes whoever closes its client down with it: leave that.
bool Inputs::let_go(std::vector<Port> ports) {
  bool left_behind = false;
  for (auto& port : ports) {
    port.port->set_thru(nullptr, 0);
    port.port->set_clock(nullptr);
    if (!port.lost)
      continue;
    static_cast<void>(port.port.release());
    left_behind = true;
  }
  return left_behind;
}

void Inputs::open(const InputInfo& wanted) {
  const std::string own = wanted.role == InputRole::teacher    ? "teacher"
                          : wanted.role == InputRole::controls ? "clock"
                                                               : "in";
  auto port = wanted.name == "virtual" ? midi::RtMidiInput::open_virtual(own)
                                       : midi::RtMidiInput::open(wanted.name);
  if (!port)
    return;
  const auto api = port->port().api;
  const Lock lock(mutex_);
  ports_.push_back({wanted, api, std::move(port), ++openings_});
}

void Inputs::connect_clock(const InputWish& wish) {
  std::vector<std::string> names;
  for (const auto& port : ports_)
    names.push_back(port.info.name);
  auto clock = clock_among(names, wish);
  for (auto& port : ports_) {
    const bool is_clock = !clock.empty() && port.info.name == clock;
    if (is_clock)
      clock.clear(); // one callback only may feed it
    if (is_clock == std::exchange(port.clock, is_clock))
      continue;
    port.port->set_clock(is_clock ? clock_link_ : nullptr);
  }
}

std::string Inputs::clock_port() const {
  const auto found =
      std::find_if(ports_.begin(), ports_.end(), [](const Port& port) { return port.clock; });
  return found == ports_.end() ? "" : found->info.name;
}

void Inputs::note_missing(const InputWish& wish, const std::vector<InputInfo>& before) {
  const auto problem = [&](InputRole role, const std::string& asked) -> std::string {
    if (has(role) || asked == "none")
      return "";
    const auto was = std::find_if(before.begin(), before.end(),
                                  [&](const auto& info) { return info.role == role; });
    if (was != before.end())
      return short_name(was->name) + " is gone";
    if (asked == "virtual")
      return "this system has no virtual ports";
    return asked.empty() ? "" : "waiting for '" + asked + "' to be plugged in";
  };
  auto line = problem(InputRole::player, wish.player);
  if (line.empty())
    line = problem(InputRole::teacher, wish.teacher.empty() ? "none" : wish.teacher);
  if (line.empty() && !wish.clock.empty() && clock_port().empty())
    line = "waiting for the clock of '" + wish.clock + "'";
  const bool waits =
      !has(InputRole::player) && !notice_.empty() && line.empty() && wish.player.empty();
  if (!waits) // what is gone is said until something else is there
    notice_ = line;
}

bool Inputs::uses(std::string_view api) const {
  return std::any_of(ports_.begin(), ports_.end(),
                     [&](const Port& port) { return port.api == api; });
}

std::vector<std::string> Inputs::ports_of(std::string_view api) const {
  std::vector<std::string> names;
  for (const auto& port : ports_)
    if (port.api == api)
      names.push_back(port.info.name);
  return names;
}

void Inputs::lose(std::string_view api) {
  for (auto& port : ports_)
    port.lost = port.lost || port.api == api;
}

void Inputs::loosen(const std::vector<std::string>& names) {
  for (auto& port : ports_)
    port.loose = port.loose || std::find(names.begin(), names.end(), port.info.name) != names.end();
}

void Inputs::set_thru(std::uint8_t number, midi::Sender* sender) {
  for (auto& port : ports_)
    if (port.info.number == number && port.info.role != InputRole::controls)
      port.port->set_thru(sender, number);
}

std::uint64_t Inputs::opening_of(std::uint8_t number) const {
  const auto found = std::find_if(ports_.begin(), ports_.end(),
                                  [&](const Port& port) { return port.info.number == number; });
  return found == ports_.end() ? 0 : found->opening;
}

bool Inputs::has(InputRole role) const {
  return std::any_of(ports_.begin(), ports_.end(),
                     [&](const Port& port) { return port.info.role == role; });
}

std::vector<InputInfo> Inputs::open() const {
  std::vector<InputInfo> all;
  for (const auto& port : ports_)
    all.push_back(port.info);
  return all;
}

bool Inputs::pop(midi::StampedMessage& message) {
  const Lock lock(mutex_);
  const bool lets_go = !letting_go_.empty();
  if (lets_go)
    message = letting_go_.front();
  Port* first = nullptr;
  for (auto& port : ports_)
    if (midi::StampedMessage next;
        port.port->peek(next) && ((first == nullptr && !lets_go) || next.time < message.time)) {
      message = next;
      first = &port;
    }
  if (first == nullptr) {
    if (lets_go)
      letting_go_.pop_front();
    return lets_go;
  }
  first->port->pop(message);
  message.input = first->info.number;
  return true;
}

std::uint64_t Inputs::drops() const {
  const Lock lock(mutex_);
  std::uint64_t drops = 0;
  for (const auto& port : ports_)
    drops += port.port->drops();
  return drops;
}

} // namespace landfall::app
