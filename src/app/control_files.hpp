#pragma once

#include "midi/control_file.hpp"
#include "theory/result.hpp"

#include <filesystem>
#include <string>
#include <vector>

namespace landfall::app {

/// Where the player's bindings are kept.
std::filesystem::path controls_file();

/// The bindings of a file; one line with path, line and column if something is wrong with it.
Result<midi::ControlMap, std::string> read_controls(const std::filesystem::path& file);

/// The player's own; nothing, and `problem`, where they can't be read.
midi::ControlMap load_controls(std::string& problem);

/// Returns the reason for a failure, else an empty text.
std::string save_controls(const midi::ControlMap& map);

/// Ready-made bindings for usual sets of switches, pads and knobs.
struct ControlProfile {
  std::string title; ///< `one switch`
  midi::ControlMap map;
};
std::vector<ControlProfile> control_profiles();

/// `map` with a profile in place of all that held for any device; or why a binding of a device of
/// its own stands in the way.
Result<midi::ControlMap, std::string> with_profile(const midi::ControlMap& map,
                                                   const ControlProfile& profile);

/// `map` with one more binding, or why that can't be.
Result<midi::ControlMap, std::string> with_binding(const midi::ControlMap& map,
                                                   const midi::Binding& binding);

} // namespace landfall::app
