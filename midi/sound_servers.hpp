#pragma once

#include <chrono>

/// What is there of the system's MIDI and sound services. For the device worker; nothing throws.
namespace landfall::midi {

/// Stops JACK's and ALSA's libraries from writing to standard error and JACK from starting a
/// server, and ignores SIGPIPE. Sets an environment variable: to be called once, before any
/// other thread is started.
void quieten_sound_libraries();

enum class ServerState { absent, present, silent };

/// Asks for a JACK server (JACK_DEFAULT_SERVER, or the default one) anew: `silent` when there was
/// no answer in `limit`. Never takes longer; what hangs is left behind in a thread of its own.
ServerState probe_jack(std::chrono::milliseconds limit = std::chrono::milliseconds(1500));

/// Whether the kernel has the ALSA sequencer.
bool has_alsa_sequencer();

} // namespace landfall::midi
