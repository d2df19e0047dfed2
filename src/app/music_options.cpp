#include "app/music_options.hpp"

#include "app/library.hpp"
#include "app/own_sets.hpp"
#include "theory/words.hpp"

#include <charconv>
#include <cmath>

namespace landfall::app {
namespace {

template <typename T> T value_or_usage(Result<T> result, const char* option) {
  if (!result)
    throw UsageError{std::string(option) + ": " + result.error().reason};
  return std::move(*result);
}

/// CLI11 takes -1 for the largest number there is, and any larger one too.
std::string whole_number(const std::string& text) {
  std::uint64_t number = 0;
  const auto* end = text.data() + text.size();
  const auto [rest, error] = std::from_chars(text.data(), end, number);
  if (error == std::errc{} && rest == end)
    return "";
  return "expected a whole number from 0 to 2^64 - 1, not '" + text + "'";
}

} // namespace

void MusicOptions::add_place(CommandLine& app) {
  app.option("--key", key, "A, F#, Ebm: a minor key has the m");
  app.option("--shape", shape, "C, A, G, E or D: the tonic chord's (default E)")
      .values({"C", "A", "G", "E", "D"});
  app.option("--position", position, "Fret of the first finger; with --shape, its octave there");
}

void MusicOptions::add_notes(CommandLine& app) {
  app.option("--set", set,
             "Notes to play from: arpeggio, fitting, a scale's name, or degrees \"1 2 b3 5\"")
      .names("sets");
  app.option("--over", over, "key or chord: whether the set moves with each chord")
      .values({"key", "chord"});
  app.option("--target", target,
             "Light only these chord tones: thirds, \"3 7\", guide line, ... (default all)");
}

void MusicOptions::add_views(CommandLine& app) {
  app.option("--show", show, "Layers: landing,set,chord-tones,grip,groups,grips").show_default();
  app.option("--labels", labels, "degree, key, note, finger or none")
      .show_default()
      .values(label_names);
}

void MusicOptions::add_instrument(CommandLine& app) {
  app.option("--instrument", instrument, "guitar, bass, keyboard, ... (see the README)")
      .names("instruments");
  app.option("--tuning", tuning, "Low string first: \"D2 A2 D3 G3 B3 E4\", or a shipped name")
      .names("instruments");
  app.option("--capo", capo, "Fret of the capo");
}

void MusicOptions::add_band(CommandLine& app) {
  app.option("--tempo", tempo, "Beats a minute, 20 to 400");
  app.option("--feel", feel, "The feel in place of the song's").names("feels");
  app.option("--seed", seed, "Seed of the band's variations").check(whole_number, "whole number");
}

theory::Key key_of(const MusicOptions& options, theory::Key standard) {
  return options.key.empty() ? standard : value_or_usage(theory::parse_key(options.key), "--key");
}

neck::PlaceRequest place_of(const MusicOptions& options) {
  neck::PlaceRequest request;
  request.position = options.position;
  if (options.shape.empty())
    return request;
  const auto name = lower_case(options.shape);
  if (name.size() != 1 || std::string("caged").find(name) == std::string::npos)
    throw UsageError{"--shape: '" + options.shape + "' is no shape: expected C, A, G, E or D"};
  request.shape = static_cast<char>(name.front() - 'a' + 'A');
  return request;
}

theory::NoteSet set_of(const MusicOptions& options, const std::string& standard) {
  return value_or_usage(own_sets().find(options.set.empty() ? standard : options.set), "--set");
}

theory::Over over_of(const MusicOptions& options, const theory::NoteSet& set) {
  const auto name = lower_case(options.over);
  if (name.empty())
    return theory::usual_over(set);
  if (name != "key" && name != "chord")
    throw UsageError{"--over: expected key or chord, not '" + options.over + "'"};
  return name == "key" ? theory::Over::key : theory::Over::chord;
}

neck::Target target_of(const MusicOptions& options) {
  return options.target.empty() ? neck::Target{}
                                : value_or_usage(neck::parse_target(options.target), "--target");
}

neck::Shown shown_of(const MusicOptions& options) {
  return value_or_usage(neck::parse_shown(options.show), "--show");
}

neck::LabelKind labels_of(const MusicOptions& options) {
  return value_or_usage(neck::parse_label_kind(options.labels), "--labels");
}

namespace {

neck::Instrument named_instrument(const std::string& name, const char* option) {
  auto instrument = load_instrument(name);
  if (!instrument)
    throw UsageError{std::string(option) + ": " + instrument.error()};
  return std::move(*instrument);
}

} // namespace

neck::Instrument instrument_of(const MusicOptions& options) {
  auto instrument = options.instrument.empty()
                        ? neck::standard_guitar()
                        : named_instrument(options.instrument, "--instrument");
  if (!options.tuning.empty()) {
    if (const auto tuning = neck::parse_tuning(options.tuning))
      instrument = neck::retuned(std::move(instrument), *tuning);
    else if (words(options.tuning).size() == 1)
      instrument = named_instrument(options.tuning, "--tuning");
    else
      throw UsageError{"--tuning: " + tuning.error().reason};
  }
  if (instrument.kind == neck::Instrument::Kind::keyboard && options.capo)
    throw UsageError{"--capo: a keyboard has none"};
  if (options.capo) {
    if (*options.capo < 0 || *options.capo >= instrument.frets)
      throw UsageError{"--capo: expected a fret from 0 to " + std::to_string(instrument.frets - 1)};
    instrument.capo = *options.capo;
  }
  return instrument;
}

std::optional<double> tempo_of(const MusicOptions& options) {
  if (options.tempo.empty())
    return std::nullopt;
  char* end = nullptr;
  const double beats = std::strtod(options.tempo.c_str(), &end);
  if (*end != '\0' || !(beats >= min_bpm && beats <= max_bpm))
    throw UsageError{"--tempo: expected beats a minute from 20 to 400, not '" + options.tempo +
                     "'"};
  return beats;
}

neck::Position position_of(const neck::Instrument& instrument, theory::Key key,
                           const neck::PlaceRequest& request) {
  const auto position = neck::find_position(instrument, key, request);
  if (!position)
    throw UsageError{position.error()};
  return *position;
}

} // namespace landfall::app
