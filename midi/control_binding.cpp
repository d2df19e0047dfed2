#include "midi/control_binding.hpp"

#include "midi/ports.hpp"

#include <algorithm>
#include <array>

namespace landfall::midi {
namespace {

char lower(char c) {
  return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

bool is_number_of(const Control& control, const ShortMessage& message) {
  return control.kind == ControlKind::wheel || control.number == message.bytes[1];
}

bool is_kind_of(const ShortMessage& message, ControlKind kind) {
  switch (status_of(message)) {
  case Status::note_off:
  case Status::note_on:
  case Status::poly_pressure:
    return kind == ControlKind::note;
  case Status::control:
    return kind == ControlKind::controller;
  case Status::program:
    return kind == ControlKind::program;
  case Status::bend:
    return kind == ControlKind::wheel;
  default:
    return false;
  }
}

/// Whether one message could come from both.
bool overlap(const Control& one, const Control& other) {
  if (one.kind != other.kind)
    return false;
  const bool channels = !one.channel || !other.channel || one.channel == other.channel;
  const bool both_ways = one.kind == ControlKind::wheel && one.number * other.number == -1;
  const bool numbers = one.kind == ControlKind::wheel ? !both_ways : one.number == other.number;
  return channels && numbers;
}

bool is_switch(ControlWay way) {
  return way == ControlWay::momentary || way == ControlWay::latching;
}

std::string where(const Binding& binding) {
  return words(binding.control) + (binding.device.empty() ? "" : " of '" + binding.device + "'");
}

} // namespace

bool belongs(const ShortMessage& message, const Control& control) {
  return is_valid(message) && is_kind_of(message, control.kind) && is_number_of(control, message) &&
         (!control.channel || *control.channel == channel_of(message));
}

bool is_device(std::string_view device, std::string_view name) {
  const auto is_in = [](std::string_view part, std::string_view whole) {
    const auto same = [](char a, char b) { return lower(a) == lower(b); };
    return std::search(whole.begin(), whole.end(), part.begin(), part.end(), same) != whole.end();
  };
  return device.empty() || is_in(device, name) ||
         is_in(without_client_number(device), without_client_number(name));
}

std::string conflict(const Binding& one, const Binding& other) {
  const bool devices = one.device.empty() || other.device.empty() ||
                       is_device(one.device, other.device) || is_device(other.device, one.device);
  if (!devices || !overlap(one.control, other.control))
    return "";
  if (one.way != other.way || !is_switch(one.way))
    return where(one) + " is bound to " + one.action + " already, and a control moves in one way";
  if (one.press != other.press)
    return "";
  return where(one) + std::string(press_word(one.press)) + " is bound to " + one.action +
         " already";
}

std::string misfit(const Binding& binding, const ControlAction& action) {
  if (is_switch(binding.way))
    return action.presses ? "" : action.name + " needs a knob, a pedal or a wheel";
  if (binding.way == ControlWay::absolute)
    return action.value ? "" : action.name + " takes no value: bind it to a switch, pad or key";
  return action.value || action.steps
             ? ""
             : action.name + " has no way back: bind it to a switch, pad or key";
}

std::string words(const Control& control) {
  std::string text;
  switch (control.kind) {
  case ControlKind::note:
    text = "note " + std::to_string(control.number);
    break;
  case ControlKind::controller:
    text = "controller " + std::to_string(control.number);
    break;
  case ControlKind::program:
    text = "program " + std::to_string(control.number + 1);
    break;
  case ControlKind::wheel:
    text = control.number == 0 ? "wheel" : (control.number > 0 ? "wheel up" : "wheel down");
    break;
  }
  return text + (control.channel ? " channel " + std::to_string(*control.channel + 1) : "");
}

std::string_view press_word(Press press) {
  constexpr std::array<std::string_view, 3> all{"", " long", " double"};
  return all[static_cast<std::size_t>(press)];
}

std::string_view way_word(ControlWay way) {
  constexpr std::array<std::string_view, 6> all{"",         "latching",        "absolute",
                                                "relative", "relative offset", "relative signed"};
  return all[static_cast<std::size_t>(way)];
}

} // namespace landfall::midi
