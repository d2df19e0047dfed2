#pragma once

#include <cstdlib>
#include <filesystem>
#include <optional>
#include <string>

namespace landfall::test {

/// The player's own data folder, for as long as this lives.
class OwnData {
public:
  explicit OwnData(const std::filesystem::path& folder) {
    if (const char* before = std::getenv("XDG_DATA_HOME"))
      before_ = before;
    ::setenv("XDG_DATA_HOME", folder.c_str(), 1);
  }
  OwnData(const OwnData&) = delete;
  OwnData& operator=(const OwnData&) = delete;
  ~OwnData() {
    if (before_)
      ::setenv("XDG_DATA_HOME", before_->c_str(), 1);
    else
      ::unsetenv("XDG_DATA_HOME");
  }

private:
  std::optional<std::string> before_;
};

} // namespace landfall::test
