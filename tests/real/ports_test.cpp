// Ports that are named and not there.

#include "real/program.hpp"

#include <doctest/doctest.h>

using namespace landfall::real;

TEST_CASE("playing to, or listening to, a port that is not there is one line and exit 1") {
  const Program program;
  for (const Command& devices :
       {Command{"--out", "no such module"}, Command{"--out", "none", "--in", "no such keys"}}) {
    Command command{"play", "A | D", "--choruses", "1"};
    command.insert(command.end(), devices.begin(), devices.end());
    const auto done = program.run(command, {{"JACK_DEFAULT_SERVER", "landfall-none"}});
    INFO(done.err);
    CHECK(done.exit == 1);
    CHECK(done.err.find("no such") != std::string::npos);
    CHECK(done.err.find("see landfall ports") != std::string::npos);
  }
}
