// Sends one note to the port "first-note" and waits to be ended: what the first sound costs at
// least.

#include "midi/message.hpp"
#include "midi/rtmidi_ports.hpp"

#include <unistd.h>

int main() {
  const auto output = landfall::midi::RtMidiOutput::open("first-note");
  if (!output)
    return 1;
  const auto note = landfall::midi::note_on(0, 60, 90);
  output->send({note.bytes.data(), note.size}, landfall::Clock::now());
  pause();
  return 0;
}
