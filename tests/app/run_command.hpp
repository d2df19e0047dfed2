#pragma once

#include "app/command.hpp"

#include <algorithm>
#include <filesystem>
#include <sstream>
#include <string>
#include <unistd.h>
#include <vector>

namespace landfall::test {

/// What a command printed and ended with.
struct Ran {
  int exit = 0;
  std::string out, err;
};

/// Runs the program in this process, as from a shell.
inline Ran run(const app::Arguments& arguments, const std::string& input = "") {
  std::istringstream in(input);
  std::ostringstream out, err;
  const int exit = app::run(arguments, {in, out, err});
  return {exit, out.str(), err.str()};
}

/// A folder of its own that is gone at the end.
struct ScratchFolder {
  std::filesystem::path path;

  ScratchFolder() {
    static int count = 0;
    path = std::filesystem::temp_directory_path() /
           ("landfall-test-" + std::to_string(::getpid()) + "-" + std::to_string(count++));
    std::filesystem::create_directories(path);
  }
  ~ScratchFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path, ignored);
  }
  ScratchFolder(const ScratchFolder&) = delete;
  ScratchFolder& operator=(const ScratchFolder&) = delete;
};

inline std::size_t count_lines(const std::string& text) {
  return static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n'));
}

} // namespace landfall::test
