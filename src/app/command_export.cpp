#include "app/command_line.hpp"
#include "app/rendition.hpp"
#include "app/setup.hpp"
#include "song/musicxml.hpp"
#include "song/unroll.hpp"
#include "theory/words.hpp"

#include <filesystem>
#include <iostream>
#include <sstream>

namespace landfall::app {
namespace {

struct ExportOptions {
  std::string song, output, parts = "drums,bass,comping";
  int choruses = 1;
  int count_in = 0;
  bool counted = false;
  bool ending = false;
  bool loose = false;
};

std::vector<band::Part> parts_of(const std::string& text) {
  std::vector<band::Part> parts;
  std::istringstream in(text);
  for (std::string word; std::getline(in, word, ',');) {
    const auto name = lower_case(trimmed(word));
    if (name == "drums")
      parts.push_back(band::Part::drums);
    else if (name == "bass")
      parts.push_back(band::Part::bass);
    else if (name == "comping")
      parts.push_back(band::Part::comping);
    else
      throw UsageError{"--parts: expected drums, bass and comping with commas between, not '" +
                       text + "'"};
  }
  if (parts.empty())
    throw UsageError{"--parts: expected at least one of drums, bass, comping"};
  return parts;
}

/// One chorus of the changes.
int write_score(const song::Song& song, const MusicOptions& music, const ExportOptions& options,
                const Streams& streams) {
  if (options.choruses != 1 || options.counted || options.ending || options.loose ||
      options.parts != ExportOptions{}.parts || !music.feel.empty())
    throw UsageError{"--choruses, --parts, --feel, --count-in, --ending, --loose: a score has the "
                     "changes only, and once"};
  if (const auto kept = kept_mode(song, music); !kept.empty())
    complain(streams, kept);
  auto form = music.key.empty() ? unroll(song) : unroll(song, key_of(music, song.key));
  if (const auto beats = tempo_of(music))
    form.tempo = song::tempo_from_beats(*beats, song.meter);
  const auto score = song::musicxml_of(form);
  const auto reason = score.empty() ? std::string("built without pugixml: MusicXML is not written")
                                    : write_file(options.output, score);
  if (!reason.empty())
    return complain(streams, options.output + ": " + reason), exit_failure;
  return exit_ok;
}

} // namespace

int run_export(const Arguments& arguments, const Streams& streams) {
  CommandLine app{"Writes a song as a MIDI file or as sound.", "landfall export"};
  MusicOptions music;
  ExportOptions options;
  app.option("SONG", options.song, "A path, a song's name, - or \"A | D | E | A\"")
      .required()
      .names("songs", true);
  app.option("-o,--output", options.output, "FILE.mid, FILE.wav or FILE.musicxml")
      .required()
      .file();
  app.option("--choruses", options.choruses, "How many").range(1, 1000).show_default();
  app.option("--parts", options.parts, "Of the band").show_default();
  app.flag("--count-in", options.counted, "Begin with a bar of count-in");
  app.flag("--ending", options.ending, "Close the song in the last chorus: no loop");
  app.flag("--loose", options.loose, "A few milliseconds and shades off, from the seed");
  app.option("--key", music.key, "A, F#, Ebm: a minor key has the m");
  music.add_band(app);
  if (const auto done = app.parse(arguments, streams))
    return *done;
  return with_usage(streams, [&]() -> int {
    const auto ending = lower_case(std::filesystem::path(options.output).extension().string());
    if (ending != ".mid" && ending != ".wav" && ending != ".musicxml")
      throw UsageError{"--output: expected a file that ends in .mid, .wav or .musicxml, not '" +
                       options.output + "'"};
    auto parts = parts_of(options.parts);
    const auto song = load_song(options.song, streams.in);
    if (!song)
      return complain(streams, song.error()), exit_failure;
    if (ending == ".musicxml")
      return write_score(*song->song, music, options, streams);
    const auto feels = load_feels(streams);
    auto setup = setup_for(*song, feels, music);
    if (const auto missing = missing_feels(*song->song, feels->names());
        music.feel.empty() && !missing.empty())
      complain(streams, missing);
    if (const auto kept = kept_mode(*song->song, music); !kept.empty())
      complain(streams, kept);
    setup.choruses = options.choruses;
    setup.count_in_bars = options.counted ? 1 : 0;
    setup.ending = options.ending;
    setup.choice.arrangement.humanised = options.loose;
    if (options.counted)
      parts.push_back(band::Part::click);
    const Rendition rendition(std::move(setup), std::move(parts));
    const auto made = ending == ".mid" ? FileText{rendition.midi(), ""} : rendition.wav();
    const auto reason = made.error.empty() ? write_file(options.output, made.text) : made.error;
    if (!reason.empty())
      return complain(streams, options.output + ": " + reason), exit_failure;
    return exit_ok;
  });
}

} // namespace landfall::app
