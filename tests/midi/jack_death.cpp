// The sound server dies while we play: the blocked sender is seen and given up, and the program
// ends. A program of its own, because it must leave with _exit.

#include "midi/fake_output.hpp"
#include "midi/jack_client.hpp"
#include "midi/jack_server.hpp"
#include "midi/rtmidi_ports.hpp"
#include "midi/sound_servers.hpp"

#include <cstdio>
#include <thread>
#include <unistd.h>

using namespace landfall;
using namespace landfall::midi;
using std::chrono::milliseconds;

namespace {

[[noreturn]] void leave(int code, const char* why) {
  std::printf("%s\n", why);
  std::fflush(stdout);
  _exit(code);
}

} // namespace

int main() {
  test::JackServer server;
  if (!server.running())
    leave(0, ("skipped: " + server.problem()).c_str());
  test::JackClient client("studio");
  static Latest<Transport> transport;
  auto output = RtMidiOutput::open("studio:in1");
  if (!output)
    leave(1, "failed: the port does not open");
  auto sender = std::make_unique<Sender>(std::move(output), transport);
  sender->send_now(note_on(0, 60, 90), Clock::now());
  server.kill();
  if (!test::JackServer::is_seen_to_end())
    leave(1, "failed: a dead server answers");
  // Its ring holds some 2,300 messages.
  Nanoseconds blocked{0};
  for (int i = 0; i < 2'000 && blocked < milliseconds(200); ++i) {
    for (int k = 0; k < 10; ++k)
      sender->send_now(control(0, 11, k), Clock::now());
    std::this_thread::sleep_for(milliseconds(2));
    blocked = sender->blocked_for(Clock::now());
  }
  if (blocked < milliseconds(200))
    leave(1, "failed: the sender is not seen to block");
  Sender::abandon(std::move(sender));
  leave(0, "the blocked sender was seen and given up");
}
