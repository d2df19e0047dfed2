// A JACK client "first-note" that prints a line when it is there, and one at the first note that
// comes to it.

#include "midi/jack_client.hpp"
#include "midi/message.hpp"

#include <cstdio>
#include <thread>

using namespace landfall::midi;

int main() {
  test::JackClient client("first-note");
  std::puts(client.running() ? "open" : "no server");
  std::fflush(stdout);
  for (int i = 0; client.running() && i < 10'000; ++i) {
    for (const auto& entry : client.recorded(0))
      if (is_note_on(entry.message)) {
        std::puts("note");
        return 0;
      }
    std::this_thread::sleep_for(std::chrono::milliseconds(1));
  }
  std::puts("nothing");
  return 1;
}
