#pragma once

#include <chrono>
#include <string>
#include <vector>

/// What is there of the system's MIDI and sound services. For the device worker; nothing throws.
namespace landfall::midi {

/// Stops JACK's and ALSA's libraries and RtMidi from writing to standard error and JACK from
/// starting a server, and ignores SIGPIPE. Sets an environment variable: to be called once, before
/// any other thread is started.
void quieten_sound_libraries();

enum class ServerState { absent, present, silent };

/// The full names of JACK's MIDI ports, as their owners and not the server see them.
struct JackPorts {
  std::vector<std::string> inputs;  ///< That can be listened to.
  std::vector<std::string> outputs; ///< That can be played through.
};

struct JackAnswer {
  ServerState state = ServerState::absent;
  std::vector<std::string> loose; ///< Ports asked about that are there, connected to none of ours.
  JackPorts ports;                ///< All there are.
  int server = 0; ///< Of one that is present: another number once the one before it has gone.
};

/// Asks for a JACK server (JACK_DEFAULT_SERVER, or the default one), and about ports: `silent` when
/// there was no answer in a second. The first question leaves a client of ours with the server,
/// without a part in the graph; later ones cost the server nothing unless its time stands still.
/// What hangs is left to itself in a thread of its own, and no other question is put until it ends.
/// Any thread; never waits longer than two seconds.
JackAnswer ask_jack(const std::vector<std::string>& ports);
/// Takes that client away, until somebody asks again.
void leave_jack();
ServerState probe_jack();

/// Whether the kernel has the ALSA sequencer.
bool has_alsa_sequencer();

} // namespace landfall::midi
