#include "app/live_feels.hpp"

#include "app/data.hpp"

#include <algorithm>
#include <system_error>

namespace landfall::app {

LiveFeels::LiveFeels(std::shared_ptr<const FeelFolder> first)
    : read_{std::move(first)}, stamps_(stamps()) {}

std::vector<LiveFeels::Stamp> LiveFeels::stamps() {
  std::vector<Stamp> found;
  for (const auto& folder : {user_data_folder(), songs_folder()})
    for (const auto& path : files_in(folder / "feels", ".feel")) {
      std::error_code gone;
      const auto written = std::filesystem::last_write_time(path, gone);
      const auto size = std::filesystem::file_size(path, gone);
      found.push_back({path, written, size});
    }
  return found;
}

const band::Feel* LiveFeels::find(std::string_view name) const {
  const std::lock_guard lock(mutex_);
  const auto latest =
      std::find_if(read_.rbegin(), read_.rend(), [&](const auto& book) { return book->has(name); });
  return (latest == read_.rend() ? read_.back() : *latest)->find(name);
}

std::vector<std::string> LiveFeels::names() const {
  const std::lock_guard lock(mutex_);
  return read_.back()->names();
}

std::string LiveFeels::refresh() {
  auto now = stamps();
  {
    const std::lock_guard lock(mutex_);
    if (now == stamps_)
      return "";
  }
  std::vector<std::string> problems;
  auto book = FeelFolder::load(problems);
  const std::lock_guard lock(mutex_);
  stamps_ = std::move(now);
  read_.push_back(std::move(book));
  return problems.empty() ? "the feels were read anew" : problems.front();
}

} // namespace landfall::app
