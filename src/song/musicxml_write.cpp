#include "song/musicxml.hpp"
#include "song/musicxml_nodes.hpp"

#include <cmath>

namespace landfall::song {
namespace {

class FormWriter {
public:
  explicit FormWriter(const Form& form)
      : form_(form), part_(append_score(document_, form.name, "Changes")) {}

  std::string run() {
    for (const auto& bar : form_.pickup)
      write(bar, static_cast<int>(&bar - form_.pickup.data()) -
                     static_cast<int>(form_.pickup.size()) + 1);
    for (const auto& bar : form_.bars)
      write(bar, bar.number);
    return text_of(document_);
  }

private:
  void write(const Bar& bar, int number) {
    auto measure = append_measure(part_, number);
    write_attributes(measure, bar);
    write_direction(measure, bar, number);
    for (std::size_t i = 0; i < bar.chords.size(); ++i) {
      const auto& chord = bar.chords[i];
      if (chord.written || chord.fresh)
        append_harmony(measure, chord.chord);
      const auto end = i + 1 < bar.chords.size() ? bar.chords[i + 1].at : bar_length(bar.meter);
      write_rest(measure, end - chord.at, bar.chords.size() == 1);
    }
    first_ = false;
  }

  void write_attributes(pugi::xml_node measure, const Bar& bar) {
    MeasureAttributes attributes;
    attributes.divisions = first_;
    if (first_ || bar.key != key_)
      attributes.key = key_ = bar.key;
    if (first_ || bar.meter != meter_)
      attributes.meter = meter_ = bar.meter;
    if (attributes.divisions || attributes.key || attributes.meter)
      append_attributes(measure, attributes);
  }

  void write_direction(pugi::xml_node measure, const Bar& bar, int number) const {
    const bool section = bar.section_start && !bar.section.empty() && number >= 1;
    const auto tempo = first_ ? std::optional(bar.tempo.value_or(form_.tempo)) : bar.tempo;
    if (!section && !tempo)
      return;
    auto direction = measure.append_child("direction");
    auto type = direction.append_child("direction-type");
    if (section)
      append_text(type, "rehearsal", bar.section);
    else
      append_text(type, "words", bar.feel);
    if (tempo)
      direction.append_child("sound").append_attribute("tempo").set_value(
          std::round(beats_per_minute(*tempo, {4, 4}) * 1000) / 1000);
  }

  /// Of any length: only its duration tells it.
  static void write_rest(pugi::xml_node measure, Ticks length, bool whole) {
    auto note = measure.append_child("note");
    auto rest = note.append_child("rest");
    if (whole)
      rest.append_attribute("measure").set_value("yes");
    append_number(note, "duration", length.count / xml_division.count);
    append_number(note, "voice", 1);
  }

  const Form& form_;
  pugi::xml_document document_;
  pugi::xml_node part_;
  theory::Key key_;
  Meter meter_;
  bool first_ = true;
};

} // namespace

std::string musicxml_of(const Form& form) {
  return FormWriter(form).run();
}

} // namespace landfall::song
