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

  /// The client as one that comes back after it was away, with nothing recorded.
  void come_back();

  /// Runs the program with --timing until it has ended by itself; `meanwhile` is called beside it,
  /// with what runs. Made again, a few times at most, where is_whole() says no: come_back() before
  /// each.
  std::unique_ptr<Child> play_whole(const Command& command,
                                    const std::function<void(Child&)>& meanwhile = {});

  JackServer& server;
  std::unique_ptr<JackClient> client;
  Program program;
};

/// Whether a program that was run with --timing has sent all that it had to. A machine that holds
/// it up for 50 ms makes it leave out notes, rightly: that says nothing of what a test is about.
bool is_whole(const Child& ended);
inline constexpr int performances = 5; ///< To be made until one is whole.

} // namespace landfall::real
