#include "song/musicxml_nodes.hpp"

#include "song/harmony_symbol.hpp"

#include <algorithm>
#include <sstream>

namespace landfall::song {

pugi::xml_node append_text(pugi::xml_node parent, const char* name, const std::string& text) {
  auto node = parent.append_child(name);
  node.text().set(text.c_str());
  return node;
}

pugi::xml_node append_number(pugi::xml_node parent, const char* name, std::int64_t number) {
  return append_text(parent, name, std::to_string(number));
}

pugi::xml_node append_score(pugi::xml_document& document, const std::string& title,
                            const std::string& part) {
  auto doctype = document.append_child(pugi::node_doctype);
  doctype.set_value("score-partwise PUBLIC \"-//Recordare//DTD MusicXML 4.0 Partwise//EN\" "
                    "\"http://www.musicxml.org/dtds/partwise.dtd\"");
  auto score = document.append_child("score-partwise");
  score.append_attribute("version").set_value("4.0");
  append_text(score.append_child("work"), "work-title", title);
  append_text(score.append_child("identification").append_child("encoding"), "software",
              "Landfall");
  auto listed = score.append_child("part-list").append_child("score-part");
  listed.append_attribute("id").set_value("P1");
  append_text(listed, "part-name", part);
  auto node = score.append_child("part");
  node.append_attribute("id").set_value("P1");
  return node;
}

pugi::xml_node append_measure(pugi::xml_node part, int number) {
  auto measure = part.append_child("measure");
  measure.append_attribute("number").set_value(std::max(number, 0));
  if (number < 1)
    measure.append_attribute("implicit").set_value("yes");
  return measure;
}

pugi::xml_node append_attributes(pugi::xml_node measure, const MeasureAttributes& attributes) {
  auto node = measure.append_child("attributes");
  if (attributes.divisions)
    append_number(node, "divisions", xml_divisions);
  if (attributes.key) {
    auto key = node.append_child("key");
    append_number(key, "fifths", std::clamp(signature(*attributes.key), -7, 7));
    append_text(key, "mode", attributes.key->minor ? "minor" : "major");
  }
  if (attributes.meter) {
    auto time = node.append_child("time");
    append_number(time, "beats", attributes.meter->beats);
    append_number(time, "beat-type", attributes.meter->unit);
  }
  return node;
}

namespace {

void append_note(pugi::xml_node harmony, const std::string& name, char step, int alter) {
  auto node = harmony.append_child(name.c_str());
  append_text(node, (name + "-step").c_str(), std::string(1, step));
  if (alter != 0)
    append_number(node, (name + "-alter").c_str(), alter);
}

} // namespace

void append_harmony(pugi::xml_node measure, const std::optional<theory::Chord>& chord,
                    Ticks offset) {
  auto harmony = measure.append_child("harmony");
  const auto element = chord ? harmony_of(*chord) : HarmonyElement{};
  append_note(harmony, "root", element.root, element.root_alter);
  auto kind = append_text(harmony, "kind", chord ? element.kind : "none");
  kind.append_attribute("text").set_value(chord ? element.kind_text.c_str() : "N.C.");
  if (element.bass != 0)
    append_note(harmony, "bass", element.bass, element.bass_alter);
  for (const auto& degree : element.degrees) {
    auto node = harmony.append_child("degree");
    append_number(node, "degree-value", degree.value);
    append_number(node, "degree-alter", degree.alter);
    append_text(node, "degree-type", degree.type);
  }
  if (offset != Ticks{})
    append_number(harmony, "offset", offset.count / xml_division.count);
}

std::string text_of(const pugi::xml_document& document) {
  std::ostringstream out;
  document.save(out, "  ", pugi::format_default, pugi::encoding_utf8);
  return out.str();
}

} // namespace landfall::song
