#pragma once

#include "midi/jack_client.hpp"
#include "midi/jack_server.hpp"
#include "real/program.hpp"

#include <doctest/doctest.h>

namespace landfall::real {

using midi::test::JackClient;
using midi::test::JackServer;
using midi::test::Recorded;

inline constexpr const char* midi_type = JACK_DEFAULT_MIDI_TYPE;

/// Where jackd is not installed a test is skipped; where it does not come up, that is a failure.
void say_why_not(const JackServer& server);

/// The JACK server of all tests of a program, an independent client, and a home for Landfall; or
/// the reason to skip.
struct Studio {
  Studio() : server(the_server()), client(std::make_unique<JackClient>("studio")) {
    if (server.running())
      REQUIRE(client->running());
    else
      say_why_not(server);
  }
  explicit operator bool() const { return server.running(); }

  static JackServer& the_server() {
    static JackServer one;
    return one;
  }

  /// The client as one that comes back after it was away.
  void come_back() { client = std::make_unique<JackClient>("studio"); }

  JackServer& server;
  std::unique_ptr<JackClient> client;
  Program program;
};

/// Connects all ports whose names match one pattern to all that match the other; how many it was.
int connect(const std::string& from, const std::string& to);

/// Whether the server shows a port whose name matches.
bool has_port(const std::string& pattern);

/// How many ports a port is connected to.
int listeners(const std::string& port);

} // namespace landfall::real
