#include "midi/jack_server.hpp"

#include "midi/sound_servers.hpp"

#include <chrono>
#include <csignal>
#include <cstdlib>
#include <fcntl.h>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>

namespace landfall::midi::test {
namespace {

bool has_ended(pid_t process) {
  return waitpid(process, nullptr, WNOHANG) == process;
}

bool looks_into_books(const std::filesystem::path& process) {
  std::ifstream maps(process / "maps");
  for (std::string line; std::getline(maps, line);)
    if (line.find("/dev/shm/jack-shm-registry") != std::string::npos)
      return true;
  return false;
}

/// JACK knows of eight servers at most, and of killed ones for as long as another process has their
/// number. Where nobody looks into its books, they can go (Linux).
void forget_dead_servers() {
  std::error_code failed;
  for (const auto& process : std::filesystem::directory_iterator("/proc", failed))
    if (looks_into_books(process.path()))
      return;
  for (const auto& file : std::filesystem::directory_iterator("/dev/shm", failed))
    if (const auto name = file.path().filename().string();
        name.starts_with("jack-") || name.starts_with("jack_"))
      std::filesystem::remove(file.path(), failed);
}

} // namespace

bool is_installed(const std::string& program) {
  const char* path = std::getenv("PATH");
  std::istringstream folders(path == nullptr ? "" : path);
  for (std::string folder; std::getline(folders, folder, ':');)
    if (access((folder + "/" + program).c_str(), X_OK) == 0)
      return true;
  return false;
}

JackServer::JackServer() : name_("landfall-test-" + std::to_string(getpid())) {
  quieten_sound_libraries();
  if (!is_installed("jackd")) {
    problem_ = "jackd is not installed";
    return;
  }
  setenv("JACK_DEFAULT_SERVER", name_.c_str(), 1);
  if (start("-R") || start("-r"))
    return;
  forget_dead_servers();
  if (!start("-R") && !start("-r"))
    problem_ = "jackd does not come up";
}

JackServer::~JackServer() {
  if (killed_ && process_ <= 0)
    start("-r"); // JACK lists a killed server, eight at most, until one of its name ends properly
  if (process_ <= 0)
    return;
  ::kill(process_, SIGTERM);
  for (int i = 0; i < 250 && !has_ended(process_); ++i) {
    std::this_thread::sleep_for(std::chrono::milliseconds(20));
    if (i == 249)
      kill();
  }
}

/// JACK tells of a server's end in a thread of its own, when the machine lets it run; until then it
/// is taken for alive, and one that is started for it.
bool JackServer::is_seen_to_end() {
  for (int i = 0; i < 500 && probe_jack() == ServerState::present; ++i)
    std::this_thread::sleep_for(std::chrono::milliseconds(10));
  return probe_jack() != ServerState::present;
}

void JackServer::kill() {
  ::kill(process_, SIGKILL);
  waitpid(process_, nullptr, 0);
  process_ = -1;
  killed_ = true;
}

void JackServer::freeze(bool frozen) const {
  ::kill(process_, frozen ? SIGSTOP : SIGCONT);
}

bool JackServer::start(const char* realtime_option) {
  is_seen_to_end(); // the one before
  process_ = fork();
  if (process_ == 0) {
    const int null = open("/dev/null", O_RDWR);
    dup2(null, STDOUT_FILENO);
    dup2(null, STDERR_FILENO);
    // -S: it waits for its clients, so that a busy machine loses no message on the way to them.
    execlp("jackd", "jackd", "-n", name_.c_str(), realtime_option, "-S", "-d", "dummy", "-r",
           "48000", "-p", "64", static_cast<char*>(nullptr));
    _exit(127);
  }
  for (int i = 0; i < 400 && process_ > 0; ++i) { // a killed one would stay in JACK's books
    std::this_thread::sleep_for(std::chrono::milliseconds(25));
    if (has_ended(process_))
      break;
    if (probe_jack() == ServerState::present)
      return true;
  }
  if (process_ > 0)
    ::kill(process_, SIGKILL);
  process_ = -1;
  return false;
}

} // namespace landfall::midi::test
