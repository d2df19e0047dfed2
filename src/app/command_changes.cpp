#include "app/command_line.hpp"
#include "app/library.hpp"
#include "app/music_options.hpp"
#include "app/neck_json.hpp"
#include "app/places_page.hpp"
#include "app/song_view.hpp"
#include "app/words.hpp"
#include "song/unroll.hpp"
#include "theory/roman.hpp"

#include <algorithm>
#include <cmath>
#include <iomanip>
#include <iostream>

namespace landfall::app {
namespace {

/// A song in one place.
struct Subject {
  std::string title;
  const song::Form& form;
  neck::Setting setting;
  neck::Target target;
  double tempo;
};

/// A beat from 1 as the foot taps; whole where it can be.
Json beat_of(const song::Bar& bar, Ticks at) {
  const auto beat = beat_length(bar.meter);
  if (floor_mod(at, beat) == Ticks{})
    return floor_div(at, beat) + 1;
  return 1.0 + static_cast<double>(at.count) / static_cast<double>(beat.count);
}

Json json_of_change(const SongView& views, const song::Bar& bar, const song::ChordAt& change) {
  const auto view = views.at(bar, change);
  auto landing = Json::array();
  for (const auto& note : views.landing(bar, change))
    landing.push_back(json_of_landing(note));
  return {{"beat", beat_of(bar, change.at)},
          {"chord", change.chord ? Json(ascii(*change.chord)) : Json(nullptr)},
          {"roman", change.chord ? Json(roman(*change.chord, bar.key)) : Json(nullptr)},
          {"new", change.fresh},
          {"shape", json_of(view.chord_shape)},
          {"position", json_of(view.hand)},
          {"landing", landing}};
}

std::string meter_text(song::Meter meter) {
  return std::to_string(meter.beats) + "/" + std::to_string(meter.unit);
}

Json json_of_bars(const Subject& subject) {
  const SongView views(subject.form, subject.setting, subject.target);
  auto bars = Json::array();
  for (const auto& bar : subject.form.bars) {
    auto changes = Json::array();
    for (const auto& change : bar.chords)
      changes.push_back(json_of_change(views, bar, change));
    bars.push_back({{"bar", bar.number},
                    {"section", bar.section},
                    {"meter", meter_text(bar.meter)},
                    {"changes", changes}});
  }
  return bars;
}

Json json_of_head(const Subject& subject) {
  return {{"song", subject.title},
          {"key", ascii(subject.form.key)},
          {"tempo", subject.tempo},
          {"set", subject.setting.set.name},
          {"over", subject.setting.over == theory::Over::key ? "key" : "chord"}};
}

std::string landing_text(const std::vector<neck::NeckNote>& notes) {
  std::string text;
  for (auto note = notes.rbegin(); note != notes.rend(); ++note) {
    text += text.empty() ? "" : "  ";
    if (note->fret)
      text += std::to_string(note->string) + ":" + std::to_string(*note->fret) + "=";
    else
      text += ascii(note->midi, note->note.accidental < 0) + "=";
    text += ascii(note->degree);
  }
  return text;
}

void print_change(std::ostream& out, const SongView& views, const song::Bar& bar,
                  const song::ChordAt& change) {
  const auto view = views.at(bar, change);
  const auto name = change.chord ? ascii(*change.chord) : "N.C.";
  const auto numeral = change.chord ? roman(*change.chord, bar.key) : "";
  const auto shape = view.chord_shape ? std::string(1, view.chord_shape->name) + " shape, nut " +
                                            std::to_string(view.chord_shape->nut)
                                      : "";
  out << std::right << std::setw(4) << bar.number << ':' << std::left << std::setw(5)
      << beat_of(bar, change.at).dump() << ' ' << std::setw(9) << name << std::setw(9) << numeral
      << std::setw(16) << shape << landing_text(views.landing(bar, change)) << '\n';
}

void print_text(std::ostream& out, const Subject& subject) {
  const SongView views(subject.form, subject.setting, subject.target);
  out << subject.title << ", key of " << ascii(subject.form.key) << ", " << subject.setting.set.name
      << " over the " << (subject.setting.over == theory::Over::key ? "key" : "chord") << ", "
      << plain_place(subject.setting) << '\n';
  for (const auto& bar : subject.form.bars) {
    if (bar.section_start && !bar.section.empty())
      out << bar.section << '\n';
    for (const auto& change : bar.chords)
      print_change(out, views, bar, change);
  }
}

void print_all(std::ostream& out, Subject subject, bool json) {
  auto document = json_of_head(subject);
  document["positions"] = Json::array();
  for (const auto& place : places_of(*subject.setting.instrument, subject.setting.key)) {
    subject.setting.home = place;
    if (json)
      document["positions"].push_back(
          {{"position", json_of(place)}, {"bars", json_of_bars(subject)}});
    else
      print_text(out, subject);
  }
  if (json)
    out << document << '\n';
}

} // namespace

int run_changes(const Arguments& arguments, const Streams& streams) {
  CLI::App app{"Lists every bar of a song: chords, shapes in the position, landing notes as "
               "string:fret=degree.",
               "landfall changes"};
  MusicOptions options;
  std::string name;
  bool json = false, everywhere = false;
  app.add_option("SONG", name, "A path, a song's name, - or \"A | D | E | A\"")->required();
  options.add_place(app);
  options.add_notes(app);
  options.add_instrument(app);
  app.add_option("--tempo", options.tempo, "Beats a minute, 20 to 400");
  app.add_flag("--all-positions", everywhere, "The same in every place of the key");
  app.add_flag("--json", json, "One JSON document");
  if (const auto done = parse(app, arguments, streams))
    return *done;
  return with_usage(streams, [&]() -> int {
    neck::Setting setting;
    const auto instrument = instrument_of(options);
    setting.instrument = &instrument;
    setting.set = set_of(options, "arpeggio");
    setting.over = over_of(options, setting.set);
    const auto place = place_of(options);
    const auto target = target_of(options);
    const auto tempo = tempo_of(options);
    const auto asked_key = key_of(options, {});
    const auto loaded = load_song(name, streams.in);
    if (!loaded)
      return complain(streams, loaded.error()), exit_failure;
    const auto& song = *loaded->song;
    const auto form = options.key.empty() ? unroll(song) : unroll(song, asked_key);
    setting.key = form.key;
    setting.home = position_of(instrument, setting.key, place);
    const double beats = tempo.value_or(beats_per_minute(song.tempo, song.meter));
    const Subject subject{song.title, form, setting, target, std::round(beats * 1000) / 1000};
    if (everywhere) {
      print_all(streams.out, subject, json);
    } else if (json) {
      auto document = json_of_head(subject);
      document["bars"] = json_of_bars(subject);
      streams.out << document << '\n';
    } else {
      print_text(streams.out, subject);
    }
    return exit_ok;
  });
}

} // namespace landfall::app
