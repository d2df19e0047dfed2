#include "app/densities.hpp"

#include "app/data.hpp"
#include "app/library.hpp"

namespace landfall::app {
namespace {

namespace fs = std::filesystem;

/// The file's density, under the name of the one that it stands for.
std::optional<trade::Density> read(const fs::path& path, const std::string& name,
                                   std::vector<std::string>& problems) {
  std::error_code ignored;
  if (!fs::exists(path, ignored))
    return std::nullopt;
  const auto file = read_file(path);
  auto density = trade::parse_density(file.text);
  if (!file.error.empty())
    problems.push_back(path.string() + ": " + file.error);
  else if (!density)
    problems.push_back(located(path.string(), density.error()));
  else {
    density->name = name;
    return std::move(*density);
  }
  return std::nullopt;
}

} // namespace

std::vector<trade::Density> load_densities(std::vector<std::string>& problems) {
  auto densities = trade::plain_densities();
  for (auto& density : densities)
    for (const auto& folder : {user_data_folder(), songs_folder()})
      if (auto found =
              read(folder / "trading" / (density.name + ".density"), density.name, problems)) {
        density = std::move(*found);
        break;
      }
  return densities;
}

} // namespace landfall::app
