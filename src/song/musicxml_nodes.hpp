#pragma once

#include "song/meter.hpp"
#include "theory/key.hpp"
#include "time/ticks.hpp"

#include <optional>
#include <pugixml.hpp>
#include <string>

/// Pieces of MusicXML 4.0 that songs and phrases are written with.
namespace landfall::song {

/// Of a quarter note: every written value is a whole number of them.
inline constexpr int xml_divisions = 24;
inline constexpr Ticks xml_division = quarter / xml_divisions;

/// `<name>text</name>` at the end of `parent`.
pugi::xml_node append_text(pugi::xml_node parent, const char* name, const std::string& text);
pugi::xml_node append_number(pugi::xml_node parent, const char* name, std::int64_t number);

/// A score-partwise with one part of this name; the part, whose document must outlive it.
pugi::xml_node append_score(pugi::xml_document& document, const std::string& title,
                            const std::string& part);

/// A measure; one numbered below 1 is a pick-up.
pugi::xml_node append_measure(pugi::xml_node part, int number);

/// Attributes of a measure: what is none is left out.
struct MeasureAttributes {
  bool divisions = false;
  std::optional<theory::Key> key;
  std::optional<Meter> meter;
};
pugi::xml_node append_attributes(pugi::xml_node measure, const MeasureAttributes& attributes);

/// A harmony, so long after the place that the measure has come to. No chord is kind `none`.
void append_harmony(pugi::xml_node measure, const std::optional<theory::Chord>& chord,
                    Ticks offset = {});

/// The document with its declaration.
std::string text_of(const pugi::xml_document& document);

} // namespace landfall::song
