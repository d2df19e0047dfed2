#include "real/child.hpp"

#include <csignal>
#include <cstdlib>
#include <fcntl.h>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>
#ifdef __linux__
#include <sys/prctl.h>
#endif

namespace landfall::real {
namespace {

/// In the new process: only what may be done between fork and exec.
[[noreturn]] void become(char* const* arguments, const char* out, const char* err, pid_t parent) {
#ifdef __linux__
  prctl(PR_SET_PDEATHSIG, SIGKILL);
#endif
  if (getppid() != parent)
    _exit(127);
  dup2(open("/dev/null", O_RDONLY), STDIN_FILENO);
  dup2(open(out, O_WRONLY | O_CREAT | O_TRUNC, 0600), STDOUT_FILENO);
  dup2(open(err, O_WRONLY | O_CREAT | O_TRUNC, 0600), STDERR_FILENO);
  execvp(arguments[0], arguments);
  _exit(127);
}

/// The environment of the child, made before the fork.
class Changed {
public:
  explicit Changed(const Environment& changes) {
    for (const auto& [name, value] : changes) {
      const char* before = std::getenv(name.c_str());
      before_[name] = before == nullptr ? std::nullopt : std::optional<std::string>(before);
      set(name, value);
    }
  }
  ~Changed() {
    for (const auto& [name, value] : before_)
      set(name, value);
  }
  Changed(const Changed&) = delete;
  Changed& operator=(const Changed&) = delete;

private:
  static void set(const std::string& name, const std::optional<std::string>& value) {
    if (value)
      setenv(name.c_str(), value->c_str(), 1);
    else
      unsetenv(name.c_str());
  }

  Environment before_;
};

int exit_of(int status) {
  return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
}

} // namespace

bool eventually(const std::function<bool()>& holds, std::chrono::milliseconds limit) {
  const auto end = std::chrono::steady_clock::now() + limit;
  while (!holds()) {
    if (std::chrono::steady_clock::now() > end)
      return holds();
    std::this_thread::sleep_for(std::chrono::milliseconds(2));
  }
  return true;
}

Child::Child(const Command& command, const std::string& folder, const Environment& environment) {
  static int count = 0;
  const auto stem = folder + "/child-" + std::to_string(count++);
  out_file_ = stem + ".out";
  err_file_ = stem + ".err";
  const Changed changed(environment);
  std::vector<char*> arguments;
  for (const auto& word : command)
    arguments.push_back(const_cast<char*>(word.c_str()));
  arguments.push_back(nullptr);
  const pid_t parent = getpid();
  id_ = fork();
  if (id_ == 0)
    become(arguments.data(), out_file_.c_str(), err_file_.c_str(), parent);
  if (id_ < 0)
    ended_ = 127;
}

Child::~Child() {
  if (!running())
    return;
  signal(SIGKILL);
  wait();
}

bool Child::running() {
  return wait(std::chrono::milliseconds(0)) == still_running;
}

void Child::signal(int number) const {
  if (ended_ == still_running && id_ > 0)
    kill(id_, number);
}

int Child::wait(std::chrono::milliseconds limit) {
  const auto has_ended = [this] {
    int status = 0;
    if (ended_ == still_running && waitpid(id_, &status, WNOHANG) == id_)
      ended_ = exit_of(status);
    return ended_ != still_running;
  };
  eventually(has_ended, limit);
  return ended_;
}

std::string Child::out() const {
  return read_file(out_file_);
}

std::string Child::err() const {
  return read_file(err_file_);
}

Finished run(const Command& command, const std::string& folder, const Environment& environment) {
  Child child(command, folder, environment);
  const int exit = child.wait(std::chrono::seconds(30));
  return {exit, child.out(), child.err()};
}

Scratch::Scratch() {
  auto name = (std::filesystem::temp_directory_path() / "landfall-real-XXXXXX").string();
  if (mkdtemp(name.data()) == nullptr)
    std::abort();
  path_ = name;
}

Scratch::~Scratch() {
  std::error_code ignored;
  std::filesystem::remove_all(path_, ignored);
}

std::string read_file(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

} // namespace landfall::real
