#include "app/data.hpp"
#include "app/music_options.hpp"
#include "app/neck_json.hpp"
#include "app/own_sets.hpp"
#include "neck/text.hpp"
#include "theory/scale.hpp"
#include "theory/words.hpp"

#include <ostream>

namespace landfall::app {
namespace {

/// What the NAME asks for: a chord, or a scale on its tonic chord.
struct Asked {
  theory::Chord chord;
  theory::Key key;
  std::string set = "arpeggio";
};

bool has_minor_third(const theory::Scale& scale) {
  bool minor = false;
  for (const auto degree : scale.degrees) {
    minor = minor || degree == theory::Degree{3, -1};
    if (degree == theory::Degree{3, 0})
      return false;
  }
  return minor;
}

Asked asked_for(const std::string& name) {
  const auto chord = theory::parse_chord(trimmed(name));
  if (chord)
    return {*chord, {chord->root, is_minor(*chord)}};
  if (const auto scale = theory::parse_rooted_scale(trimmed(name))) {
    const theory::Key key{scale->root, has_minor_third(*scale->scale)};
    return {tonic_chord(key), key, scale->scale->name};
  }
  throw UsageError{"'" + name + "', column " + std::to_string(chord.error().column) + ": " +
                   chord.error().reason};
}

struct Output {
  bool json = false;
  bool plain = false;
  std::string svg;
};

neck::NeckView view_of(const neck::Setting& setting, const theory::Chord& chord,
                       const MusicOptions& options) {
  const auto target = target_of(options);
  const std::optional<theory::Chord> chords[] = {chord};
  auto view = neck::view(setting, chord);
  neck::aim(view.notes, target,
            target.guide_line ? neck::guide_line(setting, chords).front() : std::nullopt);
  neck::show_only(view, shown_of(options));
  return view;
}

/// The movable seventh-chord grips beside the chord's shape.
std::string sevenths(const neck::Setting& setting, const theory::Chord& chord,
                     const neck::NeckView& view) {
  if (!view.chord_shape || view.grips.empty())
    return "";
  std::string text = "\nSevenths of this shape\n";
  const neck::Fretboard board(*setting.instrument);
  for (const auto& grip : neck::seventh_grips(board, *view.chord_shape, chord.root)) {
    std::string line = " ";
    for (const auto& fret : grip.frets)
      line += " " + (fret ? std::to_string(*fret) : "x");
    line.resize(std::max<std::size_t>(line.size() + 2, 32), ' ');
    text += line + grip.name + "\n";
  }
  return text;
}

int print(const neck::Setting& setting, const theory::Chord& chord, const MusicOptions& options,
          const Output& output, const Streams& streams) {
  const auto view = view_of(setting, chord, options);
  const auto labels = labels_of(options);
  if (!output.svg.empty()) {
    const auto reason = write_file(output.svg, neck::svg(setting, chord, view, labels));
    if (!reason.empty())
      return complain(streams, output.svg + ": " + reason), exit_failure;
  }
  if (output.json)
    streams.out << json_of(setting, chord, view) << '\n';
  else if (output.plain)
    streams.out << neck::sentences(setting, chord, view);
  else if (output.svg.empty())
    streams.out << neck::diagram(setting, chord, view, labels) << sevenths(setting, chord, view);
  return exit_ok;
}

} // namespace

int run_neck(const Arguments& arguments, const Streams& streams) {
  CommandLine app{"Shows a chord or scale in one position: what there is to play from.",
                  "landfall neck"};
  MusicOptions options;
  Output output;
  std::string name, chord;
  app.option("NAME", name, "A chord (Ab7) or a scale (\"A minor pentatonic\")");
  app.option("--chord", chord, "The chord under NAME's scale");
  options.add_place(app);
  options.add_notes(app);
  options.add_views(app);
  options.add_instrument(app);
  app.flag("--plain", output.plain, "Sentences, for screen readers");
  app.flag("--json", output.json, "One JSON document");
  app.option("--svg", output.svg, "Draw it into this file").file();
  if (const auto done = app.parse(arguments, streams))
    return *done;
  return with_usage(streams, [&]() -> int {
    if (name.empty() && chord.empty() && options.key.empty())
      throw UsageError{"expected a chord or scale, as in: landfall neck Ab7 --key Eb --shape C"};
    auto asked =
        asked_for(!chord.empty()  ? chord
                  : !name.empty() ? name
                                  : [&] { return ascii(tonic_chord(key_of(options, {}))); }());
    if (!chord.empty() && !name.empty()) {
      const auto over = asked_for(name);
      asked.set = over.set;
      asked.key = over.key;
    }
    neck::Setting setting;
    const auto instrument = instrument_of(options);
    setting.instrument = &instrument;
    setting.fitting = &own_sets().fitting;
    setting.key = key_of(options, asked.key);
    setting.set = set_of(options, asked.set);
    setting.over = over_of(options, setting.set);
    setting.home = position_of(instrument, setting.key, place_of(options));
    return print(setting, asked.chord, options, output, streams);
  });
}

} // namespace landfall::app
