#pragma once

#include "midi/input_mode.hpp"

#include <nlohmann/json_fwd.hpp>

#include <map>
#include <string>

namespace landfall::app {

/// What is remembered of each input, by its port's name.
using InputSetups = std::map<std::string, midi::InputSetup>;

/// The setup of a port; the usual one where nothing is remembered.
midi::InputSetup setup_of(const InputSetups& setups, const std::string& port);

/// Channels and strings from 1, latencies in milliseconds.
nlohmann::ordered_json json_of(const midi::InputSetup& setup);
nlohmann::ordered_json json_of(const InputSetups& setups);

/// Total: what is missing or out of range is as usual.
midi::InputSetup input_setup_from(const nlohmann::ordered_json& json);
InputSetups input_setups_from(const nlohmann::ordered_json& json);

} // namespace landfall::app
