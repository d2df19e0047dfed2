// The sound server is killed while the band plays: Landfall goes on and ends when it is told to.

#include "real/studio.hpp"

#include <csignal>
#include <cstdlib>
#include <thread>

using namespace landfall;
using namespace landfall::real;
using std::chrono::milliseconds;

namespace {

/// JACK keeps a list of eight servers at most, and a killed one stays on it until one of the same
/// name has ended properly.
void sweep_up(const std::string& folder) {
  const char* name = std::getenv("JACK_DEFAULT_SERVER");
  REQUIRE(name != nullptr);
  Child server({"jackd", "-n", name, "-r", "-d", "dummy", "-p", "1024"}, folder);
  std::this_thread::sleep_for(milliseconds(500));
  server.signal(SIGTERM);
  CHECK(server.wait() != still_running);
}

void survives(const Command& devices) {
  CAPTURE(devices);
  auto server = std::make_unique<JackServer>();
  if (!server->running()) {
    say_why_not(*server);
    return;
  }
  const Program program;
  Command command{"play", "A | D", "--tempo", "240"};
  command.insert(command.end(), devices.begin(), devices.end());
  const auto playing = program.start(command);
  REQUIRE(eventually([] { return has_port("Landfall.*"); }));
  std::this_thread::sleep_for(milliseconds(1500));
  server->kill();
  std::this_thread::sleep_for(std::chrono::seconds(5));
  INFO(playing->err());
  if (playing->running())
    playing->signal(SIGTERM);
  CHECK(playing->wait(std::chrono::seconds(8)) == 0);
  sweep_up(program.folder());
}

} // namespace

TEST_CASE("the server dies under our own ports") {
  survives({"--out", "virtual", "--in", "virtual"});
}

TEST_CASE("the server dies under the built-in synth") {
  survives({"--out", "synth", "--in", "none"});
}
