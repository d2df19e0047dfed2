#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace landfall::midi {

/// Those of `ports` (named as in PortInfo) that are in the sequencer's list of clients, connected
/// to none of ours, as after they were plugged in again. `clients` is the text of the kernel's
/// /proc/asound/seq/clients; what it does not say in that form says nothing. Never fails.
std::vector<std::string> loose_alsa_ports(std::string_view clients,
                                          const std::vector<std::string>& ports);

/// The same of the kernel's own list; empty where there is none.
std::vector<std::string> loose_alsa_ports(const std::vector<std::string>& ports);

} // namespace landfall::midi
