#include "app/command_line.hpp"
#include "app/data.hpp"
#include "app/handout.hpp"
#include "app/lessons.hpp"
#include "app/library.hpp"
#include "app/phrase_files.hpp"
#include "app/setup.hpp"
#include "app/sheet_paint.hpp"
#include "render/fonts.hpp"
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
  const SheetOptions& options;
  HandoutWishes wishes;
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

/// Options that the kind of sheet has no use for are said, not dropped.
void refuse(std::initializer_list<std::pair<const char*, bool>> options, const char* why) {
  for (const auto& [name, given] : options)
    if (given)
      throw UsageError{std::string(name) + ": " + why};
}

int song_command(const Request& request, const Streams& streams) {
  const auto& music = request.wishes.music;
  tempo_of(music);
  key_of(music, {});
  const auto loaded = load_song(request.options.name, streams.in);
  if (!loaded)
    return complain(streams, loaded.error()), exit_failure;
  if (const auto kept = kept_mode(*loaded->song, music); !kept.empty())
    complain(streams, kept);
  return write(song_handout(*loaded->song, request.wishes), request, streams);
}

int lesson_command(const Request& request, const fs::path& path, const Streams& streams) {
  const auto& music = request.wishes.music;
  refuse({{"--key", !music.key.empty()},
          {"--shape", !music.shape.empty()},
          {"--position", music.position.has_value()},
          {"--set", !music.set.empty()},
          {"--over", !music.over.empty()},
          {"--target", !music.target.empty()},
          {"--tempo", !music.tempo.empty()}},
         "a lesson's scenes have their own");
  const auto file = load_lesson(path.string());
  if (!file)
    return complain(streams, file.error()), exit_failure;
  const auto sheet = lesson_handout(file->lesson, request.wishes);
  if (!sheet)
    return complain(streams, path.string() + ": " + sheet.error()), exit_failure;
  return write(*sheet, request, streams);
}

int phrase_command(const Request& request, const Streams& streams) {
  const auto& music = request.wishes.music;
  refuse({{"--key", !music.key.empty()},
          {"--set", !music.set.empty()},
          {"--over", !music.over.empty()},
          {"--target", !music.target.empty()},
          {"--tempo", !music.tempo.empty()},
          {"--diagrams", request.options.diagrams_given}},
         "a phrase's tablature has no use for it");
  if (request.wishes.instrument.kind == neck::Instrument::Kind::keyboard)
    throw UsageError{"--instrument: tablature needs strings, and a keyboard has none"};
  const auto kept = load_phrase(request.options.name);
  if (!kept)
    return complain(streams, kept.error()), exit_failure;
  const auto page = phrase_handout(*kept, request.wishes);
  if (!page)
    return complain(streams, request.options.name + ": " + page.error()), exit_failure;
  return write(*page, request, streams);
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
  if (!is_song_name(name)) {
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
      .required()
      .names("songs lessons phrases", true);
  app.option("-o,--output", options.output, "FILE.pdf, or FILE.svg: then one file a page")
      .required()
      .file();
  app.option("--paper", options.paper, "A4 or letter").show_default().values({"A4", "letter"});
  auto diagrams =
      app.option("--diagrams", options.diagrams, "Of grip,tones,landing,groups").show_default();
  auto labels = app.option("--labels", music.labels, "degree, key, note, finger or none");
  labels.show_default().values(label_names);
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
    Request request{options, {}, {fonts_folder().string(), nullptr}};
    auto& wishes = request.wishes;
    wishes.music = music;
    wishes.paper = paper_of(options);
    const auto diagrams_asked = diagrams_of(options);
    if (options.diagrams_given)
      wishes.diagrams = diagrams_asked;
    wishes.labels_given = options.labels_given;
    wishes.left_handed = options.left_handed;
    wishes.instrument = handout_instrument(music, options.left_handed);
    const auto fonts = render::Fonts::open(request.faces.folder);
    if (!fonts)
      return complain(streams, fonts.error()), exit_failure;
    request.faces.metrics = wishes.metrics = fonts->get();
    return make(request, streams);
  });
}

} // namespace landfall::app
