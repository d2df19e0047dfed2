#pragma once

#include "midi/routing.hpp"
#include "midi/thru_map.hpp"
#include "theory/result.hpp"

#include <array>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace landfall::app {

/// Who sounds: the band's parts (the click is the drums'), what the player and a teacher play, and
/// calls.
enum class Voice : std::uint8_t { drums, bass, comping, lead, teacher, call };
inline constexpr std::array all_voices{Voice::drums, Voice::bass,    Voice::comping,
                                       Voice::lead,  Voice::teacher, Voice::call};

/// `drums`, `bass`, ...
std::string_view voice_name(Voice voice);
/// Our own channel for it, 0 to 15.
int channel_of(Voice voice);

/// Where a voice sounds, and how. What is not said is as usual.
struct VoiceRoute {
  std::string port;           ///< Part of an output's name; "" for the output of all the others.
  std::optional<int> channel; ///< 0 to 15.
  std::optional<int> bank;    ///< 0 to 16383.
  std::optional<int> program; ///< 0 to 127, or midi::Route::untouched.
  int transpose = 0;          ///< Half steps, -48 to 48.

  bool operator==(const VoiceRoute&) const = default;
};

/// Those that are not as usual.
using VoiceRoutes = std::map<Voice, VoiceRoute>;

/// `bass: channel 3, bank 0, program 34, transpose -12, port Deep Sea`, channels and programs from
/// 1, `program none` for the receiver's own sound; the port, which may hold commas, is the last.
std::string as_text(Voice voice, const VoiceRoute& route);
Result<std::pair<Voice, VoiceRoute>> read_voice_route(std::string_view text);

/// The ports that are named, each once, in the order of the voices.
std::vector<std::string> named_ports(const VoiceRoutes& routes);

/// The routing of the output that is meant by `port` ("": the usual one). Voices whose port is not
/// among `open` go to the usual one.
midi::Routing routing_for(const std::string& port, const VoiceRoutes& routes,
                          const std::vector<std::string>& open);

/// Channels on which an instrument's own channels sound, the player's first: one for each string or
/// finger, so that each bends by itself. They are routed as the player's, but keep their channels.
inline constexpr std::array lead_channels{2, 5, 6, 7, 8, 10, 11, 12, 13, 14, 15};

} // namespace landfall::app
