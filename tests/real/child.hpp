#pragma once

#include <chrono>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <sys/types.h>
#include <vector>

namespace landfall::real {

/// Changes to the environment of a program; nothing takes the variable away.
using Environment = std::map<std::string, std::optional<std::string>>;
using Command = std::vector<std::string>;

inline constexpr std::chrono::seconds patience{10};
inline constexpr int still_running = -1;

/// Waits for what another program does; false when it has not come true in time.
bool eventually(const std::function<bool()>& holds, std::chrono::milliseconds limit = patience);

/// A program of its own beside the test. It ends with the test at the latest.
class Child {
public:
  /// Looks for the program on the PATH unless it is a path. Its output goes to files in `folder`.
  Child(const Command& command, const std::string& folder, const Environment& environment = {});
  ~Child();
  Child(const Child&) = delete;
  Child& operator=(const Child&) = delete;

  pid_t id() const { return id_; }
  bool running();
  void signal(int number) const;

  /// The exit code, 128 and the number of the signal that ended it, or still_running.
  int wait(std::chrono::milliseconds limit = patience);

  /// What it has printed so far.
  std::string out() const;
  std::string err() const;

private:
  std::string out_file_, err_file_;
  pid_t id_ = -1;
  int ended_ = still_running;
};

/// Runs a program to its end.
struct Finished {
  int exit = still_running;
  std::string out, err;
};
Finished run(const Command& command, const std::string& folder,
             const Environment& environment = {});

/// A folder that is gone at the end.
class Scratch {
public:
  Scratch();
  ~Scratch();
  Scratch(const Scratch&) = delete;
  Scratch& operator=(const Scratch&) = delete;

  const std::string& path() const { return path_; }

private:
  std::string path_;
};

std::string read_file(const std::string& path);

} // namespace landfall::real
