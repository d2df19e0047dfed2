#include "app/control_files.hpp"

#include "app/control_actions.hpp"
#include "app/data.hpp"
#include "midi/control_file.hpp"

#include <algorithm>

namespace landfall::app {
namespace {

constexpr std::size_t most_bytes = 256U << 10U;

std::filesystem::path profiles_folder() {
  const auto folder = data_folder();
  if (!folder)
    return {};
  std::error_code ignored;
  const auto installed = *folder / "profiles";
  return std::filesystem::is_directory(installed, ignored) ? installed
                                                           : *folder / "midi" / "profiles";
}

std::string title_of(const std::filesystem::path& path) {
  auto title = path.stem().string();
  std::replace(title.begin(), title.end(), '-', ' ');
  return title;
}

} // namespace

std::filesystem::path controls_file() {
  return config_folder() / "own.controls";
}

Result<midi::ControlMap, std::string> read_controls(const std::filesystem::path& file) {
  const auto text = read_file(file, most_bytes);
  if (!text.error.empty())
    return file.string() + ": " + text.error;
  auto map = midi::parse_controls(text.text, control_actions());
  if (!map)
    return file.string() + ":" + std::to_string(map.error().line) + ":" +
           std::to_string(map.error().column) + ": " + map.error().reason;
  return *std::move(map);
}

midi::ControlMap load_controls(std::string& problem) {
  std::error_code ignored;
  if (!std::filesystem::exists(controls_file(), ignored))
    return {};
  auto map = read_controls(controls_file());
  if (map)
    return *std::move(map);
  problem = map.error();
  return {};
}

std::string save_controls(const midi::ControlMap& map) {
  return write_file(controls_file(),
                    "# Bound on the page of controls in the window.\n" + midi::controls_text(map));
}

std::vector<ControlProfile> control_profiles() {
  std::vector<ControlProfile> profiles;
  for (const auto& path : files_in(profiles_folder(), ".controls"))
    if (auto map = read_controls(path))
      profiles.push_back({title_of(path), *std::move(map)});
  return profiles;
}

Result<midi::ControlMap, std::string> with_profile(const midi::ControlMap& map,
                                                   const ControlProfile& profile) {
  auto joined = map;
  std::erase_if(joined.bindings, [](const auto& binding) { return binding.device.empty(); });
  joined.times = profile.map.times;
  for (const auto& binding : profile.map.bindings) {
    auto more = with_binding(joined, binding);
    if (!more)
      return more;
    joined = *std::move(more);
  }
  return joined;
}

Result<midi::ControlMap, std::string> with_binding(const midi::ControlMap& map,
                                                   const midi::Binding& binding) {
  for (const auto& other : map.bindings)
    if (auto reason = midi::conflict(other, binding); !reason.empty())
      return reason;
  if (map.bindings.size() >= midi::most_bindings)
    return std::string("there are too many bindings already");
  auto joined = map;
  joined.bindings.push_back(binding);
  return joined;
}

} // namespace landfall::app
