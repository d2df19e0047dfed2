#pragma once

#include <string>
#include <sys/types.h>

namespace landfall::midi::test {

/// A JACK server of our own on a machine without sound: jackd with the dummy driver under a name
/// that no other run has. While it lives, JACK_DEFAULT_SERVER names it.
class JackServer {
public:
  JackServer();
  ~JackServer();
  JackServer(const JackServer&) = delete;
  JackServer& operator=(const JackServer&) = delete;

  /// False where jackd isn't installed or doesn't come up.
  bool running() const { return process_ > 0; }
  /// Why not.
  const std::string& problem() const { return problem_; }

  /// As when the sound server crashes.
  void kill();
  /// The same again after that. False where it does not come up.
  bool restart() { return start("-R") || start("-r"); }
  /// It hangs, or goes on.
  void freeze(bool frozen) const;

  /// Waits until JACK's library has seen it; false after five seconds. Clients of a killed server
  /// must have been closed.
  static bool is_seen_to_end();

private:
  bool start(const char* realtime_option);

  std::string name_;
  std::string problem_;
  bool killed_ = false;
  pid_t process_ = -1;
};

/// Whether a program of this name is on the PATH.
bool is_installed(const std::string& program);

} // namespace landfall::midi::test
