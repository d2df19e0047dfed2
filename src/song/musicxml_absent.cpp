#include "song/musicxml.hpp"

namespace landfall::song {

bool reads_musicxml() {
  return false;
}

Imported import_musicxml(std::string_view) {
  return {std::nullopt, {{Severity::error, {1, 1}, "built without pugixml: MusicXML is not read"}}};
}

std::string musicxml_of(const Form&) {
  return "";
}

} // namespace landfall::song
