#include "app/names.hpp"

#include "app/data.hpp"
#include "app/library.hpp"
#include "app/own_sets.hpp"
#include "app/phrase_files.hpp"
#include "theory/scale.hpp"

#include <algorithm>
#include <array>

namespace landfall::app {
namespace {

using Names = std::vector<std::string>;

Names stems(const std::vector<std::filesystem::path>& files) {
  Names names;
  for (const auto& file : files)
    names.push_back(file.stem().string());
  return names;
}

Names songs() {
  return stems(song_files());
}

Names lessons() {
  return stems(files_in(songs_folder() / "lessons", ".lesson"));
}

Names phrases() {
  std::vector<std::string> problems;
  Names names;
  for (const auto& file : phrase_files(problems))
    names.push_back(file.name);
  return names;
}

Names feels() {
  std::vector<std::string> problems;
  return FeelFolder::load(problems)->names();
}

Names sets() {
  Names names{"arpeggio", "fitting"};
  for (const auto& set : own_sets().own)
    names.push_back(set.name);
  for (const auto& scale : theory::all_scales())
    names.push_back(scale.name);
  return names;
}

struct Kind {
  const char* name;
  Names (*names)();
};

constexpr std::array kinds{Kind{"songs", songs},
                           Kind{"lessons", lessons},
                           Kind{"phrases", phrases},
                           Kind{"feels", feels},
                           Kind{"instruments", instrument_names},
                           Kind{"sets", sets}};

} // namespace

std::optional<Names> names_of(const std::string& kind) {
  const auto found = std::ranges::find(kinds, kind, &Kind::name);
  if (found == kinds.end())
    return std::nullopt;
  auto names = found->names();
  std::ranges::sort(names);
  names.erase(std::unique(names.begin(), names.end()), names.end());
  return names;
}

} // namespace landfall::app
