#include "trade/phrase_file.hpp"
#include "trade/phrase_value.hpp"

#include <algorithm>
#include <cmath>

namespace landfall::trade {
namespace {

std::string sign_at(const Phrase& phrase, Ticks tick) {
  const auto at = std::find_if(phrase.chords.begin(), phrase.chords.end(),
                               [&](const PhraseChord& chord) { return chord.at == tick; });
  if (at == phrase.chords.end())
    return ".";
  return at->chord ? ascii(*at->chord) : "N.C.";
}

/// Into how many equal parts a bar falls so that each of its chords begins one.
std::int64_t parts(const Phrase& phrase, Ticks start, Ticks length) {
  for (std::int64_t count = 1; count < length.count; ++count)
    if (length.count % count == 0 &&
        std::all_of(phrase.chords.begin(), phrase.chords.end(), [&](const PhraseChord& chord) {
          return chord.at < start || chord.at >= start + length ||
                 floor_mod(chord.at - start, length / count) == Ticks{};
        }))
      return count;
  return length.count;
}

std::string chords_text(const Phrase& phrase) {
  const auto length = song::bar_length(phrase.meter);
  std::string text = "|";
  for (int bar = 0; bar < phrase.bars; ++bar) {
    const auto start = length * bar;
    const auto count = parts(phrase, start, length);
    for (std::int64_t part = 0; part < count; ++part)
      text += " " + sign_at(phrase, start + length / count * part);
    text += " |";
  }
  return text;
}

bool flats_in(theory::Key key) {
  return theory::signature(key) < 0;
}

std::string marks_of(const Phrase& phrase, const PhraseNote& note, Ticks step) {
  constexpr const char* roles[] = {"", "!", ">", "%"};
  std::string text = roles[static_cast<std::size_t>(note.role)];
  if (note.chord == chord_index(phrase, note.start) + 1)
    text += "&";
  if (note.bend_cents)
    text += "^" + std::to_string(std::lround(*note.bend_cents));
  if (note.string && note.fret)
    text += "@" + std::to_string(*note.string) + ":" + std::to_string(*note.fret);
  if (note.velocity != PhraseNote{}.velocity)
    text += "=" + std::to_string(note.velocity);
  return step == note.length ? text : text + "_" + value_text(note.length);
}

/// From one note to the next, its own length where a rest or nothing follows it.
Ticks step_of(const Phrase& phrase, std::size_t index) {
  const auto& note = phrase.notes[index];
  const auto next = index + 1 < phrase.notes.size() ? phrase.notes[index + 1].start : phrase.length;
  return std::min(note.length, next - note.start);
}

std::string notes_text(const Phrase& phrase, Ticks begin) {
  const auto bar = song::bar_length(phrase.meter);
  std::string text = "line:";
  auto at = begin;
  const auto go_to = [&](Ticks tick) {
    if (tick > at)
      text += " r/" + value_text(tick - at);
    at = tick;
  };
  for (std::size_t i = 0; i < phrase.notes.size(); ++i) {
    const auto& note = phrase.notes[i];
    const auto line = bar * floor_div(note.start, bar);
    if (at <= line && (i > 0 || line > begin)) {
      go_to(line);
      text += " |\nline:";
    }
    go_to(note.start);
    const auto step = step_of(phrase, i);
    text += " " + ascii(note.midi, flats_in(phrase.key)) + "/" + value_text(step) +
            marks_of(phrase, note, step);
    at += step;
  }
  return text + "\n";
}

std::string tags_text(const std::vector<std::string>& tags) {
  std::string text;
  for (const auto& tag : tags)
    text += (text.empty() ? "tags: " : ", ") + tag;
  return text.empty() ? text : text + "\n";
}

} // namespace

std::string phrase_text(const KeptPhrase& kept) {
  const auto& phrase = kept.phrase;
  const auto begin = phrase.notes.empty() ? Ticks{} : std::min(Ticks{}, phrase.notes.front().start);
  std::string text = "name: " + kept.name + "\n";
  if (!kept.about.empty())
    text += "about: " + kept.about + "\n";
  text += tags_text(kept.tags) + "metre: " + std::to_string(phrase.meter.beats) + "/" +
          std::to_string(phrase.meter.unit) + "\nkey: " + ascii(phrase.key) + "\n";
  if (begin < Ticks{})
    text += "pick-up: " + value_text(-begin) + "\n";
  return text + "over: " + chords_text(phrase) + "\n" + notes_text(phrase, begin);
}

} // namespace landfall::trade
