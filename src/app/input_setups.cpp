#include "app/input_setups.hpp"

#include "midi/ports.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>

namespace landfall::app {
namespace {

using Json = nlohmann::ordered_json;

constexpr double most_latency_ms = 500;
constexpr std::size_t most_ports = 64;

double milliseconds(Nanoseconds time) {
  return std::round(std::chrono::duration<double, std::milli>(time).count() * 100) / 100;
}

Nanoseconds from_milliseconds(double value) {
  const double bounded = std::clamp(value, -most_latency_ms, most_latency_ms);
  return std::chrono::duration_cast<Nanoseconds>(
      std::chrono::duration<double, std::milli>(bounded));
}

std::optional<double> number_at(const Json& json, const char* name) {
  const auto found = json.is_object() ? json.find(name) : json.end();
  if (found == json.end() || !found->is_number())
    return std::nullopt;
  const auto value = found->get<double>();
  return std::isfinite(value) ? std::optional(value) : std::nullopt;
}

int whole_at(const Json& json, const char* name, int low, int high, int usual) {
  const auto value = number_at(json, name);
  return value ? static_cast<int>(std::clamp(*value, double(low), double(high))) : usual;
}

} // namespace

midi::InputSetup setup_of(const InputSetups& setups, const std::string& port) {
  if (const auto found = setups.find(port); found != setups.end())
    return found->second;
  const auto steady = midi::without_client_number(port);
  for (const auto& [name, setup] : setups)
    if (midi::without_client_number(name) == steady)
      return setup;
  return {};
}

Json json_of(const midi::InputSetup& setup) {
  Json json{{"mode", midi::mode_name(setup.mode)}};
  if (setup.mode == midi::InputMode::per_string) {
    json["base_channel"] = setup.base_channel + 1;
    json["strings"] = setup.strings;
  }
  if (setup.bend_semitones)
    json["bend_semitones"] = *setup.bend_semitones;
  if (setup.latency)
    json["latency_ms"] = milliseconds(*setup.latency);
  const midi::InputSetup usual;
  if (setup.string_latency != usual.string_latency) {
    auto& list = json["string_latency_ms"] = Json::array();
    for (const auto latency : setup.string_latency)
      list.push_back(milliseconds(latency));
  }
  return json;
}

Json json_of(const InputSetups& setups) {
  auto json = Json::object();
  for (const auto& [port, setup] : setups)
    json[port] = json_of(setup);
  return json;
}

midi::InputSetup input_setup_from(const Json& json) {
  midi::InputSetup setup;
  if (!json.is_object())
    return setup;
  if (const auto mode = json.find("mode"); mode != json.end() && mode->is_string())
    setup.mode = midi::mode_of(mode->get<std::string>()).value_or(setup.mode);
  setup.base_channel = whole_at(json, "base_channel", 1, midi::channel_count, 1) - 1;
  setup.strings = whole_at(json, "strings", 1, int{midi::InputSetup::most_strings}, setup.strings);
  if (number_at(json, "bend_semitones"))
    setup.bend_semitones = whole_at(json, "bend_semitones", 0, 96, 0);
  if (const auto latency = number_at(json, "latency_ms"))
    setup.latency = from_milliseconds(*latency);
  const auto list = json.find("string_latency_ms");
  if (list != json.end() && list->is_array())
    for (std::size_t i = 0; i < std::min(list->size(), setup.string_latency.size()); ++i)
      if ((*list)[i].is_number())
        setup.string_latency[i] = from_milliseconds((*list)[i].get<double>());
  return setup;
}

InputSetups input_setups_from(const Json& json) {
  InputSetups setups;
  if (!json.is_object())
    return setups;
  for (const auto& [port, setup] : json.items())
    if (setups.size() < most_ports)
      setups[port] = input_setup_from(setup);
  return setups;
}

} // namespace landfall::app
