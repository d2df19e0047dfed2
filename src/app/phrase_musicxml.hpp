#pragma once

#include "app/sheet_fingering.hpp"
#include "trade/phrase_file.hpp"

namespace landfall::app {

/// What a build without pugixml says.
inline constexpr const char* no_pugixml = "built without pugixml: MusicXML is not written";

/// A phrase as a score-partwise of MusicXML 4.0: notes as written_bars() has them, with string,
/// fret and bend, and the chords as harmony. `stops` are those of all its notes, or none. Empty in
/// a build without pugixml.
std::string musicxml_of(const trade::KeptPhrase& kept, const std::vector<sheet::Stop>& stops,
                        Tempo tempo);

} // namespace landfall::app
