#include "app/command_line.hpp"
#include "app/library.hpp"
#include "app/music_options.hpp"
#include "app/neck_json.hpp"
#include "app/own_sets.hpp"
#include "app/places_page.hpp"
#include "app/song_view.hpp"
#include "app/words.hpp"
#include "song/unroll.hpp"
#include "theory/roman.hpp"

#include <algorithm>
#include <cmath>
#include <iomanip>
#include <iostream>
#include <iterator>

namespace landfall::app {
namespace {

/// A song in one place.
struct Subject {
  std::string title;
  const song::Form& form;
  neck::Setting setting;
  neck::Target target;
  neck::Shown shown;
  double tempo;
};

/// A beat from 1 as the foot taps; whole where it can be.
Json beat_of(const song::Bar& bar, Ticks at) {
  const auto beat = beat_length(bar.meter);
  if (floor_mod(at, beat) == Ticks{})
    return floor_div(at, beat) + 1;
  return 1.0 + static_cast<double>(at.count) / static_cast<double>(beat.count);
}

template <typename List> Json array_of(const List& list) {
  auto array = Json::array();
  for (const auto& item : list)
    array.push_back(json_of(item));
  return array;
}

/// The layers asked for beside the landing notes.
void add_layers(Json& json, neck::NeckView view, const neck::Shown& shown) {
  neck::show_only(view, shown);
  if (shown.set || shown.chord_tones || shown.grip)
    json["notes"] = array_of(view.notes);
  if (shown.groups)
    json["groups"] = array_of(view.groups);
  if (shown.grips)
    json["grips"] = array_of(view.grips);
}

Json json_of_change(const SongView& views, const song::Bar& bar, const song::ChordAt& change,
                    const neck::Shown& shown) {
  const auto view = views.at(bar, change, {shown.groups, shown.grips, 10});
  auto landing = Json::array();
  for (const auto& note : views.landing(bar, change))
    landing.push_back(json_of_landing(note));
  Json json{{"beat", beat_of(bar, change.at)},
            {"chord", change.chord ? Json(ascii(*change.chord)) : Json(nullptr)},
            {"roman", change.chord ? Json(roman(*change.chord, bar.key)) : Json(nullptr)},
            {"new", change.fresh},
            {"shape", json_of(view.chord_shape)},
            {"position", json_of(view.hand)},
            {"landing", landing}};
  if (change.chord)
    add_layers(json, view, shown);
  return json;
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
      changes.push_back(json_of_change(views, bar, change, subject.shown));
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

/// The layers asked for beside the landing notes, a line each.
void print_layers(std::ostream& out, neck::NeckView view, const neck::Shown& shown) {
  neck::show_only(view, shown);
  const auto line = [&](const char* name, auto wanted) {
    std::vector<neck::NeckNote> notes;
    std::copy_if(view.notes.begin(), view.notes.end(), std::back_inserter(notes), wanted);
    if (!notes.empty())
      out << "            " << std::left << std::setw(13) << name << landing_text(notes) << '\n';
  };
  if (shown.grip)
    line("grip", [](const auto& note) { return note.in_grip; });
  if (shown.chord_tones)
    line("chord tones", [](const auto& note) { return note.role == neck::Role::chord; });
  if (shown.set)
    line("set", [](const auto& note) { return note.role == neck::Role::set; });
  for (const auto& group : view.groups)
    out << "            group        strings " << group.strings[0] << ' ' << group.strings[1] << ' '
        << group.strings[2] << ", frets " << group.frets[0] << ' ' << group.frets[1] << ' '
        << group.frets[2] << ", " << group.form << '\n';
  for (const auto& grip : view.grips) {
    out << "            grip         ";
    for (const auto& fret : grip.frets)
      out << (fret ? std::to_string(*fret) : "x") << ' ';
    out << " " << grip.name << '\n';
  }
}

void print_change(std::ostream& out, const SongView& views, const song::Bar& bar,
                  const song::ChordAt& change, const neck::Shown& shown) {
  const auto view = views.at(bar, change, {shown.groups, shown.grips, 10});
  const auto name = change.chord ? ascii(*change.chord) : "N.C.";
  const auto numeral = change.chord ? roman(*change.chord, bar.key) : "";
  const auto shape = view.chord_shape ? std::string(1, view.chord_shape->name) + " shape, nut " +
                                            std::to_string(view.chord_shape->nut)
                                      : "";
  out << std::right << std::setw(4) << bar.number << ':' << std::left << std::setw(5)
      << beat_of(bar, change.at).dump() << ' ' << std::setw(9) << name << std::setw(9) << numeral
      << std::setw(16) << shape << landing_text(views.landing(bar, change)) << '\n';
  if (change.chord)
    print_layers(out, view, shown);
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
      print_change(out, views, bar, change, subject.shown);
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
  CommandLine app{"Lists every bar of a song: chords, shapes in the position, landing notes as "
                  "string:fret=degree.",
                  "landfall changes"};
  MusicOptions options;
  std::string name;
  bool json = false, everywhere = false;
  app.option("SONG", name, "A path, a song's name, - or \"A | D | E | A\"")
      .required()
      .names("songs", true);
  options.add_place(app);
  options.add_notes(app);
  options.show = "landing";
  options.add_views(app);
  options.add_instrument(app);
  app.option("--tempo", options.tempo, "Beats a minute, 20 to 400");
  app.flag("--all-positions", everywhere, "The same in every place of the key");
  app.flag("--json", json, "One JSON document");
  if (const auto done = app.parse(arguments, streams))
    return *done;
  return with_usage(streams, [&]() -> int {
    neck::Setting setting;
    const auto instrument = instrument_of(options);
    setting.instrument = &instrument;
    setting.fitting = &own_sets().fitting;
    setting.set = set_of(options, "arpeggio");
    setting.over = over_of(options, setting.set);
    const auto place = place_of(options);
    const auto target = target_of(options);
    const auto shown = shown_of(options);
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
    const Subject subject{song.title, form,  setting,
                          target,     shown, std::round(beats * 1000) / 1000};
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
