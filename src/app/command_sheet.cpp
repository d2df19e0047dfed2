#include "app/command_line.hpp"
#include "app/data.hpp"
#include "app/library.hpp"
#include "app/music_options.hpp"
#include "app/own_sets.hpp"
#include "app/phrase_files.hpp"
#include "app/setup.hpp"
#include "app/sheet_paint.hpp"
#include "app/sheet_phrase.hpp"
#include "app/sheet_scenes.hpp"
#include "render/fonts.hpp"
#include "song/unroll.hpp"
#include "theory/words.hpp"

#include <algorithm>
#include <filesystem>
#include <iostream>

namespace landfall::app {
namespace {

namespace fs = std::filesystem;

struct SheetOptions {
  std::string name, output, paper = "A4", diagrams = "grip,tones,landing";
  bool left_handed = false;
  bool diagrams_given = false, labels_given = false;
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

/// What is asked for on the command line, checked before any file is read.
struct Request {
  const MusicOptions& music;
  const SheetOptions& options;
  sheet::Paper paper;
  sheet::Diagrams diagrams;
  neck::Instrument instrument;
  sheet::Faces faces;
};

int write(const sheet::Sheet& sheet, const Request& request, const Streams& streams) {
  const auto& options = request.options;
  const auto& faces = request.faces;
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

neck::Instrument on_the_wished_side(neck::Instrument instrument, const SheetOptions& options) {
  instrument.left_handed = instrument.left_handed || options.left_handed;
  return instrument;
}

/// Options that the kind of sheet has no use for are said, not dropped.
void refuse(std::initializer_list<std::pair<const char*, bool>> options, const char* why) {
  for (const auto& [name, given] : options)
    if (given)
      throw UsageError{std::string(name) + ": " + why};
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

int song_command(const Request& request, const Streams& streams) {
  const auto tempo = tempo_of(request.music);
  const auto key = key_of(request.music, {});
  const auto loaded = load_song(request.options.name, streams.in);
  if (!loaded)
    return complain(streams, loaded.error()), exit_failure;
  const auto& song = *loaded->song;
  if (const auto kept = kept_mode(song, request.music); !kept.empty())
    complain(streams, kept);
  const auto form = request.music.key.empty() ? unroll(song) : unroll(song, key);
  sheet::SongSheet sheet;
  sheet.song = &song;
  sheet.place = place_on(request, form);
  sheet.beats_per_minute = tempo.value_or(beats_per_minute(song.tempo, song.meter));
  return write(song_sheet(sheet, request.paper, *request.faces.metrics), request, streams);
}

int lesson_command(const Request& request, const fs::path& path, const Streams& streams) {
  const auto& music = request.music;
  refuse({{"--key", !music.key.empty()},
          {"--shape", !music.shape.empty()},
          {"--position", music.position.has_value()},
          {"--set", !music.set.empty()},
          {"--over", !music.over.empty()},
          {"--target", !music.target.empty()},
          {"--tempo", !music.tempo.empty()}},
         "a lesson's scenes have their own");
  const auto file = read_file(path);
  if (!file.error.empty())
    return complain(streams, path.string() + ": " + file.error), exit_failure;
  const auto lesson = practice::read_lesson(file.text, own_sets());
  if (!lesson)
    return complain(streams, located(path.string(), lesson.error())), exit_failure;
  auto instrument = request.instrument;
  if (music.instrument.empty() && music.tuning.empty() && !lesson->instrument.empty()) {
    auto named = music;
    named.instrument = lesson->instrument;
    instrument = on_the_wished_side(instrument_of(named), request.options);
  }
  sheet::SceneWishes wishes;
  if (request.options.diagrams_given)
    wishes.diagrams = request.diagrams;
  if (request.options.labels_given)
    wishes.labels = labels_of(music);
  const auto scenes = scenes_of(*lesson, instrument, wishes);
  if (!scenes)
    return complain(streams, path.string() + ": " + scenes.error()), exit_failure;
  return write(lesson_sheet(*lesson, *scenes, request.paper, *request.faces.metrics), request,
               streams);
}

int phrase_command(const Request& request, const Streams& streams) {
  const auto& music = request.music;
  refuse({{"--key", !music.key.empty()},
          {"--set", !music.set.empty()},
          {"--over", !music.over.empty()},
          {"--target", !music.target.empty()},
          {"--tempo", !music.tempo.empty()},
          {"--diagrams", request.options.diagrams_given}},
         "a phrase's tablature has no use for it");
  if (request.instrument.kind == neck::Instrument::Kind::keyboard)
    throw UsageError{"--instrument: tablature needs strings, and a keyboard has none"};
  const auto kept = load_phrase(request.options.name);
  if (!kept)
    return complain(streams, kept.error()), exit_failure;
  sheet::PhraseSheet sheet{&*kept, &request.instrument, {}, labels_of(music)};
  if (music.position || !music.shape.empty())
    sheet.hand = position_of(request.instrument, kept->phrase.key, place_of(music)).low;
  const auto page = phrase_sheet(sheet, request.paper, *request.faces.metrics);
  if (!page)
    return complain(streams, request.options.name + ": " + page.error()), exit_failure;
  return write(*page, request, streams);
}

bool is_song(const std::string& name) {
  std::error_code ignored;
  return std::ranges::any_of(song_folders(), [&](const fs::path& folder) {
    return fs::exists(folder / (name + ".song"), ignored);
  });
}

/// The lesson that is meant: a path, or a shipped one by its file name; empty if it is none.
fs::path lesson_path(const std::string& name) {
  constexpr const char* ending = ".lesson";
  if (name.ends_with(ending))
    return name;
  const auto shipped = songs_folder() / "lessons" / (name + ending);
  std::error_code ignored;
  return name.find('/') == std::string::npos && fs::exists(shipped, ignored) ? shipped : fs::path{};
}

bool is_phrase(const std::string& name) {
  if (name.ends_with(".phrase") || is_midi_file(name))
    return true;
  std::vector<std::string> problems;
  return std::ranges::any_of(phrase_files(problems),
                             [&](const PhraseFile& file) { return file.name == name; });
}

/// A song comes before a lesson or a phrase of the same name.
int make(const Request& request, const Streams& streams) {
  const auto& name = request.options.name;
  if (!is_song(name)) {
    if (const auto lesson = lesson_path(name); !lesson.empty())
      return lesson_command(request, lesson, streams);
    if (is_phrase(name))
      return phrase_command(request, streams);
  }
  return song_command(request, streams);
}

} // namespace

int run_sheet(const Arguments& arguments, const Streams& streams) {
  CommandLine app{"Makes a handout to print: a song's changes and each chord's diagrams in one "
                  "place, a lesson scene by scene, or a phrase as tablature.",
                  "landfall sheet"};
  MusicOptions music;
  SheetOptions options;
  app.option("SONG", options.name, "A song, a lesson or a phrase: its name, or its file")
      .required();
  app.option("-o,--output", options.output, "FILE.pdf, or FILE.svg: then one file a page")
      .required();
  app.option("--paper", options.paper, "A4 or letter").show_default();
  auto diagrams =
      app.option("--diagrams", options.diagrams, "Of grip,tones,landing,groups").show_default();
  auto labels = app.option("--labels", music.labels, "degree, key, note, finger or none");
  labels.show_default();
  app.flag("--left-handed", options.left_handed, "Necks as a left-handed player sees them");
  music.add_place(app);
  music.add_notes(app);
  music.add_instrument(app);
  app.option("--tempo", music.tempo, "Beats a minute, 20 to 400");
  if (const auto done = app.parse(arguments, streams))
    return *done;
  options.diagrams_given = diagrams.given();
  options.labels_given = labels.given();
  return with_usage(streams, [&]() -> int {
    ending_of(options);
    labels_of(music);
    Request request{music,
                    options,
                    paper_of(options),
                    diagrams_of(options),
                    on_the_wished_side(instrument_of(music), options),
                    {fonts_folder().string(), nullptr}};
    const auto fonts = render::Fonts::open(request.faces.folder);
    if (!fonts)
      return complain(streams, fonts.error()), exit_failure;
    request.faces.metrics = fonts->get();
    return make(request, streams);
  });
}

} // namespace landfall::app
