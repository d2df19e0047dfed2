#include "app/command_line.hpp"
#include "app/data.hpp"
#include "app/library.hpp"
#include "app/music_options.hpp"
#include "app/own_sets.hpp"
#include "app/setup.hpp"
#include "app/sheet_paint.hpp"
#include "app/sheet_song.hpp"
#include "render/fonts.hpp"
#include "song/unroll.hpp"
#include "theory/words.hpp"

#include <filesystem>
#include <iostream>

namespace landfall::app {
namespace {

struct SheetOptions {
  std::string name, output, paper = "A4", diagrams = "grip,tones,landing";
  bool left_handed = false;
};

sheet::Paper paper_of(const SheetOptions& options) {
  const auto name = lower_case(options.paper);
  if (name != "a4" && name != "letter")
    throw UsageError{"--paper: expected A4 or letter, not '" + options.paper + "'"};
  return name == "a4" ? sheet::Paper{} : sheet::letter;
}

sheet::Diagrams diagrams_of(const SheetOptions& options) {
  const auto diagrams = sheet::parse_diagrams(options.diagrams);
  if (!diagrams)
    throw UsageError{"--diagrams: " + diagrams.error().reason};
  return *diagrams;
}

std::string ending_of(const SheetOptions& options) {
  auto ending = lower_case(std::filesystem::path(options.output).extension().string());
  if (ending != ".pdf" && ending != ".svg")
    throw UsageError{"--output: expected a file that ends in .pdf or .svg, not '" + options.output +
                     "'"};
  return ending;
}

/// `FILE-2.svg`; the first page has the name as it was given.
std::string page_file(const std::string& output, std::size_t page) {
  if (page == 0)
    return output;
  const std::filesystem::path path(output);
  return (path.parent_path() / path.stem()).string() + "-" + std::to_string(page + 1) +
         path.extension().string();
}

/// One file; the reason for a failure, else an empty text.
std::string write_painted(const sheet::Painted& painted, const std::string& file) {
  if (!painted.error.empty())
    return painted.error;
  const auto reason = write_file(file, painted.bytes);
  return reason.empty() ? "" : file + ": " + reason;
}

int write(const sheet::Sheet& sheet, const SheetOptions& options, const sheet::Faces& faces,
          const Streams& streams) {
  std::string reason;
  if (ending_of(options) == ".pdf")
    reason = write_painted(pdf_of(sheet, faces), options.output);
  else
    for (std::size_t page = 0; page < sheet.pages.size() && reason.empty(); ++page)
      reason = write_painted(svg_of(sheet, page, faces), page_file(options.output, page));
  if (!reason.empty())
    return complain(streams, reason), exit_failure;
  if (ending_of(options) == ".svg" && sheet.pages.size() > 1)
    streams.out << sheet.pages.size() << " pages: " << options.output << " to "
                << page_file(options.output, sheet.pages.size() - 1) << '\n';
  return exit_ok;
}

/// What is asked for on the command line, checked before any file is read.
struct Request {
  const MusicOptions& music;
  const SheetOptions& options;
  sheet::Paper paper;
  sheet::Diagrams diagrams;
  neck::Instrument instrument;
};

Request request_of(const MusicOptions& music, const SheetOptions& options) {
  ending_of(options);
  Request request{music, options, paper_of(options), diagrams_of(options), instrument_of(music)};
  request.instrument.left_handed = request.instrument.left_handed || options.left_handed;
  return request;
}

sheet::Place place_on(const Request& request, const song::Form& form) {
  sheet::Place place;
  place.form = &form;
  place.setting.instrument = &request.instrument;
  place.setting.fitting = &own_sets().fitting;
  place.setting.key = form.key;
  place.setting.set = set_of(request.music, usual_set);
  place.setting.over = over_of(request.music, place.setting.set);
  place.setting.home = position_of(request.instrument, form.key, place_of(request.music));
  place.target = target_of(request.music);
  place.labels = labels_of(request.music);
  place.diagrams = request.diagrams;
  return place;
}

int song_command(const Request& request, const render::TextMetrics& metrics, const Streams& streams,
                 const sheet::Faces& faces) {
  const auto tempo = tempo_of(request.music);
  const auto key = key_of(request.music, {});
  const auto loaded = load_song(request.options.name, streams.in);
  if (!loaded)
    return complain(streams, loaded.error()), exit_failure;
  const auto& song = *loaded->song;
  const auto form = request.music.key.empty() ? unroll(song) : unroll(song, key);
  sheet::SongSheet sheet;
  sheet.song = &song;
  sheet.place = place_on(request, form);
  sheet.beats_per_minute = tempo.value_or(beats_per_minute(song.tempo, song.meter));
  sheet.feel = request.music.feel;
  return write(song_sheet(sheet, request.paper, metrics), request.options, faces, streams);
}

} // namespace

int run_sheet(const Arguments& arguments, const Streams& streams) {
  CommandLine app{"Makes a handout to print: the changes as a chart, and for each chord its "
                  "diagrams in one place.",
                  "landfall sheet"};
  MusicOptions music;
  SheetOptions options;
  app.option("SONG", options.name,
             "A song as for other commands, FILE.lesson, or a phrase's name or FILE.phrase")
      .required();
  app.option("-o,--output", options.output, "FILE.pdf, or FILE.svg for one file a page").required();
  app.option("--paper", options.paper, "A4 or letter").show_default();
  app.option("--diagrams", options.diagrams, "Of grip,tones,landing,groups").show_default();
  app.option("--labels", music.labels, "degree, key, note, finger or none").show_default();
  app.flag("--left-handed", options.left_handed, "Diagrams for a left-handed neck");
  music.add_place(app);
  music.add_notes(app);
  music.add_instrument(app);
  app.option("--tempo", music.tempo, "Beats a minute, 20 to 400");
  if (const auto done = app.parse(arguments, streams))
    return *done;
  return with_usage(streams, [&]() -> int {
    const auto request = request_of(music, options);
    const auto fonts = render::Fonts::open(fonts_folder().string());
    if (!fonts)
      return complain(streams, fonts.error()), exit_failure;
    const sheet::Faces faces{fonts_folder().string(), fonts->get()};
    return song_command(request, **fonts, streams, faces);
  });
}

} // namespace landfall::app
