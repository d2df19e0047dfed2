#pragma once

#include "app/lists.hpp"
#include "app/part_routes.hpp"

namespace landfall::app {

/// Rows for the page of ports: each part with where it sounds; values are `part:NAME`.
void add_part_rows(ChoiceList& list, const VoiceRoutes& routes);

/// One part's ports, channels, sounds, banks and octaves; values are `part:NAME:WHAT=VALUE`.
ChoiceList part_list(Voice voice, const VoiceRoutes& routes,
                     const std::vector<midi::PortInfo>& outputs);

/// The voice of a value of either kind; none for any other value.
std::optional<Voice> voice_of(const std::string& value);

/// The routes after a value of part_list; the same for any other.
VoiceRoutes changed_routes(const std::string& value, VoiceRoutes routes);

/// `channel 3 · Slap Bass 1 · by Deep Sea`, or `as usual`.
std::string route_words(const VoiceRoute& route);

} // namespace landfall::app
