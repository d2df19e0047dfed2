#include "app/command_line.hpp"
#include "app/data.hpp"
#include "app/lessons.hpp"
#include "app/pack.hpp"
#include "app/setup.hpp"
#include "app/signals.hpp"
#include "midi/sound_servers.hpp"
#include "midi/synth.hpp"
#include "render/fonts.hpp"
#include "theory/words.hpp"

#include <charconv>
#include <iostream>
#include <sstream>

namespace landfall::app {
namespace {

struct PackOptions {
  std::string name, output, paper = "A4", percents = "70,85,100";
  int choruses = 1;
  bool force = false, no_sound = false, left_handed = false;
};

constexpr std::size_t most_tempi = 8;

std::vector<int> percents_of(const std::string& text) {
  std::vector<int> percents;
  std::istringstream in(text);
  for (std::string word; std::getline(in, word, ',');) {
    int percent = 0;
    const auto number = trimmed(word);
    const auto [end, error] =
        std::from_chars(number.data(), number.data() + number.size(), percent);
    if (error != std::errc{} || end != number.data() + number.size() || percent < 10 ||
        percent > 200)
      percent = 0;
    percents.push_back(percent);
  }
  if (percents.empty() || percents.size() > most_tempi || std::ranges::count(percents, 0) > 0)
    throw UsageError{"--tempi: expected up to " + std::to_string(most_tempi) +
                     " percentages from 10 to 200 with commas between, not '" + text + "'"};
  return percents;
}

void refuse_for_lesson(const MusicOptions& music) {
  const auto given = [](const std::string& option) { return !option.empty(); };
  if (given(music.key) || given(music.shape) || music.position || given(music.set) ||
      given(music.over) || given(music.target) || given(music.tempo) || given(music.feel))
    throw UsageError{"--key, --shape, --position, --set, --over, --target, --tempo, --feel: a "
                     "lesson's scenes have their own"};
}

/// Fills the pack and brings it to its place.
int finish(Packer& packer, PackFiles& files, const std::vector<PackGround>& grounds,
           const PackOptions& options, const Streams& streams) {
  for (const auto& ground : grounds)
    packer.add_loops(ground);
  packer.add_phrases(grounds);
  packer.add_index();
  for (const auto& line : packer.remarks())
    complain(streams, line);
  if (!packer.error().empty())
    return complain(streams, packer.error()), exit_failure;
  if (const auto reason = files.finish(); !reason.empty())
    return complain(streams, reason), exit_failure;
  streams.out << options.output << (is_zip(options.output) ? "" : "/index.html") << '\n';
  return exit_ok;
}

int pack_lesson(const std::filesystem::path& path, PackWishes& wishes, const PackOptions& options,
                const Streams& streams) {
  refuse_for_lesson(wishes.handout.music);
  const auto file = load_lesson(path.string());
  if (!file)
    return complain(streams, file.error()), exit_failure;
  const auto* lesson = &file->lesson;
  const auto sheet = lesson_handout(*lesson, wishes.handout);
  const auto grounds = grounds_of(*lesson);
  if (!sheet || !grounds)
    return complain(streams, path.string() + ": " + (sheet ? grounds.error() : sheet.error())),
           exit_failure;
  wishes.handout.instrument = lesson_instrument(*lesson, wishes.handout);
  for (const auto& ground : *grounds)
    if (!ground.feel.empty() && !wishes.feels->has(ground.feel))
      complain(streams, "there is no feel '" + ground.feel + "'; the band plays plainly instead");
  const auto stem = hyphenated_name(path.stem().string());
  PackFiles files(options.output);
  Packer packer(files, wishes, lesson->title.empty() ? stem : lesson->title, lesson->about);
  packer.add_sheet(*sheet, stem);
  return finish(packer, files, *grounds, options, streams);
}

int pack_song(PackWishes& wishes, const PackOptions& options, const Streams& streams) {
  const auto& music = wishes.handout.music;
  const auto song = load_song(options.name, streams.in);
  if (!song)
    return complain(streams, song.error()), exit_failure;
  setup_for(*song, wishes.feels, music);
  if (const auto missing = missing_feels(*song->song, wishes.feels->names());
      music.feel.empty() && !missing.empty())
    complain(streams, missing);
  if (const auto kept = kept_mode(*song->song, music); !kept.empty())
    complain(streams, kept);
  const auto sheet = song_handout(*song->song, wishes.handout);
  const auto ground = ground_of(*song, music);
  PackFiles files(options.output);
  Packer packer(files, wishes, ground.title(),
                song->song->trains.empty() ? "" : "Trains: " + song->song->trains + ".");
  packer.add_sheet(sheet, hyphenated_name(ground.title()));
  return finish(packer, files, {ground}, options, streams);
}

sheet::Paper paper_of(const std::string& text) {
  const auto name = lower_case(text);
  if (name != "a4" && name != "letter")
    throw UsageError{"--paper: expected A4 or letter, not '" + text + "'"};
  return name == "a4" ? sheet::Paper{} : sheet::letter;
}

int pack(const PackOptions& options, const MusicOptions& music, const Streams& streams) {
  PackWishes wishes;
  wishes.percents = percents_of(options.percents);
  wishes.choruses = options.choruses;
  wishes.stopped = stop_asked;
  auto& handout = wishes.handout;
  handout.music = music;
  handout.paper = paper_of(options.paper);
  handout.left_handed = options.left_handed;
  handout.instrument = handout_instrument(music, options.left_handed);
  if (const auto problem = PackFiles::problem(options.output, options.force); !problem.empty())
    return complain(streams, problem), exit_failure;
  wishes.sound = !options.no_sound && midi::has_synth();
  if (!options.no_sound && !midi::has_synth())
    complain(streams, "this build has no synth: the loops are MIDI files only");
  wishes.faces.folder = fonts_folder().string();
  const auto fonts = render::Fonts::open(wishes.faces.folder);
  if (!fonts)
    return complain(streams, fonts.error()), exit_failure;
  wishes.faces.metrics = handout.metrics = fonts->get();
  wishes.feels = load_feels(streams);
  midi::quieten_sound_libraries();
  catch_signals();
  if (!is_song_name(options.name))
    if (const auto lesson = lesson_path(options.name); !lesson.empty())
      return pack_lesson(lesson, wishes, options, streams);
  return pack_song(wishes, options, streams);
}

} // namespace

int run_pack(const Arguments& arguments, const Streams& streams) {
  CommandLine app{"Makes a folder or zip file for a student to take home: the sheet, loops to play "
                  "over at several tempi, phrases that fit, and a page that leads through them.",
                  "landfall pack"};
  MusicOptions music;
  PackOptions options;
  app.option("SONG", options.name, "A song or a lesson: its name, or its file")
      .required()
      .names("songs lessons", true);
  app.option("-o,--output", options.output, "A folder, or FILE.zip").required().file();
  app.option("--tempi", options.percents, "Percentages of the tempo, a loop each").show_default();
  app.option("--choruses", options.choruses, "Of each loop").range(1, 64).show_default();
  app.flag("--no-sound", options.no_sound, "Loops as MIDI files only");
  app.option("--paper", options.paper, "A4 or letter").show_default().values({"A4", "letter"});
  app.flag("--left-handed", options.left_handed, "Necks as a left-handed player sees them");
  app.flag("--force", options.force, "Write over files that are there");
  music.add_place(app);
  music.add_notes(app);
  music.add_instrument(app);
  music.add_band(app);
  if (const auto done = app.parse(arguments, streams))
    return *done;
  return with_usage(streams, [&] { return pack(options, music, streams); });
}

} // namespace landfall::app
