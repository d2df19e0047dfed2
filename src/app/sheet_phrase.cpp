#include "app/sheet_phrase.hpp"

#include "app/sheet_song.hpp"
#include "app/words.hpp"

#include <algorithm>
#include <cstdlib>
#include <iterator>

namespace landfall::app::sheet {
namespace {

/// Where shapes or the tonic put the hand if nothing else does.
int home_of(const neck::Instrument& instrument, theory::Key key) {
  const auto home = neck::find_position(instrument, key, {});
  return home ? home->low : 0;
}

int lowest_fret(const std::vector<Stop>& stops) {
  int lowest = 0;
  for (const auto& stop : stops)
    if (stop.fret > 0 && (lowest == 0 || stop.fret < lowest))
      lowest = stop.fret;
  return std::max(lowest, 1);
}

/// Where it lies, as it is or so many octaves away.
struct Fitted {
  trade::Phrase phrase;
  Fingering fingering;
  int octaves = 0;
};

/// As it is kept where that can be; else the octave that is easiest to play.
Result<Fitted, std::string> fitted(const PhraseSheet& sheet) {
  const neck::Fretboard board(*sheet.instrument);
  const int home = home_of(*sheet.instrument, sheet.kept->phrase.key);
  std::optional<Fitted> best;
  std::string reason;
  for (const int octaves : {0, 1, -1, 2, -2}) {
    auto phrase = sheet.kept->phrase;
    for (auto& note : phrase.notes)
      note.midi = note.midi + 12 * octaves;
    auto fingering = fingering_of(phrase, board, sheet.hand, home);
    if (!fingering)
      reason = reason.empty() ? fingering.error() : reason;
    else if (!best || fingering->cost < best->fingering.cost)
      best = Fitted{std::move(phrase), *std::move(fingering), octaves};
    if (best && best->octaves == 0)
      break;
  }
  if (best)
    return *std::move(best);
  return reason;
}

std::string octave_words(int octaves) {
  if (octaves == 0)
    return "";
  const auto many = std::abs(octaves) == 1 ? std::string("an octave") : "two octaves";
  return "  ·  " + many + (octaves > 0 ? " higher" : " lower") + " than it is kept";
}

std::vector<std::string> facts(const PhraseSheet& sheet, int octaves) {
  const auto& kept = *sheet.kept;
  std::string tags;
  for (const auto& tag : kept.tags)
    tags += (tags.empty() ? "Tags: " : ", ") + tag;
  const auto meter =
      std::to_string(kept.phrase.meter.beats) + "/" + std::to_string(kept.phrase.meter.unit);
  return {"Key of " + key_words(kept.phrase.key) + "  ·  " + meter + "  ·  " +
              instrument_words(*sheet.instrument) + octave_words(octaves),
          capital(render::with_signs(kept.about)), tags};
}

std::string legend(const PhraseSheet& sheet) {
  std::string words = "The top line is the highest string; numbers are frets. ";
  if (sheet.labels != neck::LabelKind::none)
    words += "Below the rhythm stands what each note is; bold ones are where the phrase lands. ";
  if (std::ranges::any_of(sheet.kept->phrase.notes,
                          [](const auto& note) { return note.bend_cents.has_value(); }))
    words += "An arrow is a bend: full is a whole step, ½ a half step. ";
  return words;
}

} // namespace

Result<Sheet, std::string> phrase_sheet(const PhraseSheet& sheet, const Paper& paper,
                                        const render::TextMetrics& metrics) {
  const double room = paper.room();
  auto fit = fitted(sheet);
  if (!fit)
    return fit.error();
  const int hand = sheet.hand.value_or(lowest_fret(fit->fingering.stops));
  const Tablature tab{&fit->phrase, std::move(fit->fingering.stops),
                      neck::Fretboard(*sheet.instrument), sheet.labels, hand};
  std::vector<Block> blocks{
      title_block(sheet.kept->name, facts(sheet, fit->octaves), room, metrics)};
  std::ranges::move(tab_blocks(tab, room, metrics), std::back_inserter(blocks));
  blocks.push_back(paragraph("To read it", legend(sheet), room, metrics));
  blocks.push_back(paragraph(
      "To practise",
      "Sing it before you play it. Take it slowly, and stop after each landing note to hear it "
      "against the chord. Then let it begin on another beat, move it to the next chord and the "
      "next place by its degrees, and answer it with a phrase of your own as long as this one.",
      room, metrics));
  blocks.push_back(cautions(room, metrics));
  return flow(sheet.kept->name, std::move(blocks), paper, metrics);
}

} // namespace landfall::app::sheet
