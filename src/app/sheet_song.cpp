#include "app/sheet_song.hpp"

#include "app/sheet_bars.hpp"
#include "app/words.hpp"

#include <cmath>
#include <iterator>

namespace landfall::app::sheet {
namespace {

constexpr double title_size = 24;
constexpr Style quiet{9.5, Face::regular, 0.15};

std::string number_words(double value) {
  const double tenths = std::round(value * 10) / 10;
  const auto whole = std::lround(tenths);
  if (std::abs(tenths - static_cast<double>(whole)) < 0.05)
    return std::to_string(whole);
  return std::to_string(static_cast<long>(tenths)) + "." +
         std::to_string(std::lround(tenths * 10) % 10);
}

std::string meter_words(song::Meter meter) {
  return std::to_string(meter.beats) + "/" + std::to_string(meter.unit);
}

std::string practice_words(const Place& place) {
  const auto aim = place.target.all() ? std::string("a landing note")
                                      : "one of the " + target_text(place.target);
  return "Say the landing notes of each chord aloud before you play one. Then go through the "
         "changes slowly: one note a chord, " +
         aim +
         ", begun on the change and held. Once that is easy, keep two bars in a loop and come to "
         "the same note by step, from above and from below. Play no more than you hear beforehand, "
         "and leave every fourth bar empty.";
}

} // namespace

std::string instrument_words(const neck::Instrument& instrument) {
  auto words = capital(instrument.name);
  if (instrument.kind == neck::Instrument::Kind::fretted)
    words += " (" + render::with_signs(tuning_text(instrument)) + ")";
  if (instrument.capo > 0)
    words += ", capo at " + std::to_string(instrument.capo) + ", frets count from it";
  return words + (instrument.left_handed ? ", left-handed" : "");
}

Block title_block(const std::string& title, const std::vector<std::string>& lines, double room,
                  const render::TextMetrics& metrics) {
  Pen pen(metrics);
  double y = title_size * 0.8;
  const Style style{title_size, Face::bold};
  for (const auto& line : pen.wrapped(style, render::with_signs(title), room)) {
    pen.write(style, 0, y, line);
    y += title_size * 1.15;
  }
  y -= title_size * 1.15 - 17;
  for (const auto& line : lines)
    if (!line.empty())
      y = pen.write_wrapped(quiet, 0, y, line, room, 1.45);
  return {"title", pen.take(), y - quiet.size, 0, false};
}

std::vector<std::string> fact_lines(const SongSheet& sheet) {
  const auto& song = *sheet.song;
  const auto& setting = sheet.place.setting;
  const auto form = form_words(song);
  const bool dotted = compound(song.meter) && song.meter.unit == 8;
  return {"Key of " + key_words(setting.key) + "  ·  " + meter_words(song.meter) + "  ·  " +
              number_words(sheet.beats_per_minute) + (dotted ? " dotted quarters" : " beats") +
              " a minute  ·  " + feel_words(song.feel),
          instrument_words(*setting.instrument) + "  ·  " + place_words(setting) + "  ·  " +
              (setting.set.kind == theory::NoteSet::Kind::fitting
                   ? "for each chord the set that fits it"
                   : set_words(setting, std::nullopt)),
          song.trains.empty() ? "" : "Trains: " + render::with_signs(song.trains) + ".",
          form.empty() ? "" : "Form: " + form + "."};
}

Block paragraph(const std::string& heading, const std::string& text, double room,
                const render::TextMetrics& metrics) {
  Pen pen(metrics);
  pen.write({11, Face::bold}, 0, 9, heading);
  const double y = pen.write_wrapped({9.5}, 0, 24, text, room);
  return {heading, pen.take(), y - 9, 18, false};
}

Block cautions(double room, const render::TextMetrics& metrics) {
  return paragraph("Hands and ears",
                   "Warm up first. Rest your hands before they tire, and stop when it hurts. Keep "
                   "the volume down, headphones most of all. Pain or numbness that lasts, or "
                   "ringing ears, is for a doctor or a licensed therapist, not for more practice.",
                   room, metrics);
}

Sheet song_sheet(const SongSheet& song, const Paper& paper, const render::TextMetrics& metrics) {
  const double room = paper.room();
  const auto title = song.song->title.empty() ? song.place.form->name : song.song->title;
  std::vector<Block> blocks{title_block(title, fact_lines(song), room, metrics)};
  std::ranges::move(chart_blocks(*song.song, *song.place.form, room, metrics),
                    std::back_inserter(blocks));
  blocks.push_back(paragraph("To practise", practice_words(song.place), room, metrics));
  blocks.push_back(set_block(song.place, room, metrics));
  std::ranges::move(chord_blocks(song.place, room, metrics), std::back_inserter(blocks));
  blocks.push_back(cautions(room, metrics));
  return flow(title, std::move(blocks), paper, metrics);
}

} // namespace landfall::app::sheet
