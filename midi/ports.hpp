#pragma once

#include "midi/sound_servers.hpp"

#include <functional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

/// MIDI ports of the system. Everything here may block for seconds where a sound system is ill:
/// call it on the device worker only. Nothing throws.
namespace landfall::midi {

struct PortInfo {
  std::string name; ///< As the system shows it, without ALSA's client and port numbers.
  std::string api;  ///< "alsa", "jack", ...

  bool operator==(const PortInfo&) const = default;
};

struct PortLists {
  std::vector<PortInfo> inputs;  ///< What we can listen to.
  std::vector<PortInfo> outputs; ///< What we can send to.

  bool operator==(const PortLists&) const = default;
};

/// All ports of all systems that RtMidi was built for and that answer, the preferred system first;
/// our own ports are left out. Empty where there is no MIDI system.
PortLists list_ports();

/// Ports that came and went between two lists.
struct PortChanges {
  PortLists appeared;
  PortLists vanished;

  bool any() const;
  bool operator==(const PortChanges&) const = default;
};
PortChanges changes_between(const PortLists& before, const PortLists& after);

/// Follows the ports: to be asked about once a second.
class PortWatcher {
public:
  /// Asks JACK as ask_jack() does; for tests, another.
  using AskJack = std::function<JackAnswer(const std::vector<std::string>& ports)>;
  explicit PortWatcher(AskJack ask = ask_jack) : ask_(std::move(ask)) {}

  /// What changed since the last call; at the first, everything has appeared. JACK's ports stay
  /// while its server is silent: it may be late only. `jack_ports` are those of the others that
  /// ours should be connected to.
  PortChanges poll(const std::vector<std::string>& jack_ports = {});

  const PortLists& ports() const { return ports_; }
  /// What JACK had to say to the last call; its ports are those last known.
  const JackAnswer& jack() const { return jack_; }

private:
  PortLists look(const std::vector<std::string>& jack_ports);

  AskJack ask_;
  PortLists ports_;
  JackAnswer jack_;
};

/// The name without the numbers that ALSA puts behind it, "Piano:Piano MIDI 1 20:0".
std::string without_alsa_numbers(std::string_view name);

/// The name without the number that a system gives to one client among others, and anew when it is
/// plugged in again: "Piano [20] (capture): MIDI 1" of a bridge from ALSA to JACK, "piano-01:out"
/// of JACK's second client of a name.
std::string without_client_number(std::string_view name);

/// Which of `names` is meant by `wanted`, in any case of ASCII letters: the one that is equal, else
/// the first that begins with it, else the first that contains it, else the first that is equal but
/// for its client's number. -1 if none; empty means none.
int find_port(const std::vector<std::string>& names, std::string_view wanted);

} // namespace landfall::midi
