#include "app/data.hpp"
#include "app/device_options.hpp"
#include "app/history_file.hpp"
#include "app/room.hpp"
#include "app/setup.hpp"
#include "app/signals.hpp"
#include "midi/sound_servers.hpp"

#include <iostream>
#include <unistd.h>

namespace landfall::app {
namespace {

struct WindowArguments {
  std::string song, profile, lesson;
  int display = 0;
  std::optional<int> notes;
  bool full_screen = false;
};

/// The song asked for, else the one left open, else the first there is, else four bars.
Result<LoadedSong, std::string> find_song(const std::string& asked, Settings& settings,
                                          std::istream& input) {
  if (!asked.empty()) {
    settings.song = lasting_name(asked);
    return load_song(asked, input);
  }
  if (auto song = load_song(settings.song, input))
    return song;
  settings.song = Settings{}.song;
  if (auto song = load_song(settings.song, input))
    return song;
  return load_song("A | A | D | D | A | E | D | A", input);
}

int open(const WindowArguments& arguments, MusicOptions& music, const DeviceOptions& devices,
         const Streams& streams) {
  Room::Start start;
  start.settings = load_settings(settings_file(), start.notice);
  const auto asked_before = start.settings.song;
  const auto song = find_song(arguments.song, start.settings, streams.in);
  if (!song)
    return complain(streams, song.error()), exit_failure;
  if (!devices.out.empty())
    start.settings.out = devices.out;
  start.settings.latency = midi::latency_of(devices.latency).value_or(start.settings.latency);
  if (!devices.in.empty())
    start.settings.in = devices.in;
  if (!devices.teacher.empty())
    start.settings.teacher = devices.teacher;
  if (!devices.clock.empty())
    start.settings.clock = devices.clock == "none" ? "" : devices.clock;
  auto routes = routes_of(devices, start.settings.routes);
  if (!routes)
    throw UsageError{routes.error()};
  start.settings.routes = *std::move(routes);
  start.settings.thru_channels =
      read_channels(devices.thru_channels).value_or(start.settings.thru_channels);
  start.settings.sends_clock = start.settings.sends_clock || devices.sends_clock;
  start.mode = devices.mode_wish();
  if (!arguments.lesson.empty()) {
    auto lesson = load_lesson(arguments.lesson);
    if (!lesson)
      return complain(streams, lesson.error()), exit_failure;
    start.lesson = *std::move(lesson);
  }
  const auto history = history_file(arguments.profile);
  if (!history)
    throw UsageError{history.error()};
  start.history = *history;
  auto controls = controls_of(devices, start.notice);
  if (!controls)
    return complain(streams, controls.error()), exit_failure;
  start.controls = *std::move(controls);
  const bool same_song = start.settings.song == asked_before && arguments.song != "-";
  if (const auto gone = fill_in(music, start.settings, same_song); start.notice.empty())
    start.notice = gone;
  start.plays = !start.settings.started_before && !start.lesson;
  start.feels = load_feels(streams);
  start.setup = setup_for(*song, start.feels, music);
  if (start.notice.empty() && music.feel.empty())
    start.notice = missing_feels(*song->song, start.feels->names());
  if (start.notice.empty())
    start.notice = kept_mode(*song->song, music);
  start.instrument = instrument_of(music);
  start.settings.instrument = {music.instrument.empty() ? InstrumentChoice{}.name
                                                        : music.instrument,
                               music.tuning, music.capo};
  start.notes = arguments.notes;
  render::WindowOptions window;
  window.font_folder = fonts_folder().string();
  window.display = arguments.display;
  window.full_screen = arguments.full_screen;
  auto opened = render::Window::open(window);
  if (!opened)
    return complain(streams, opened.error()), exit_failure;
  Room(std::move(*opened), std::move(start)).run(stop_asked);
  if (Devices::must_exit_hard())
    _exit(exit_ok);
  return exit_ok;
}

/// `Commands: play, ...` in lines of at most 72 letters.
std::string commands_in_lines() {
  std::string text, line = "Commands:";
  for (const auto& name : command_names()) {
    if (line.size() + name.size() > 70)
      text += line + "\n", line.clear();
    line += (line.empty() ? "" : " ") + name + ",";
  }
  line.back() = '.';
  return text + line + "\n";
}

} // namespace

int run_window(const Arguments& arguments, const Streams& streams) {
  CommandLine app{"Landfall: solo over chord changes in one position, over a band that loops.",
                  "landfall"};
  MusicOptions music;
  DeviceOptions devices;
  WindowArguments window;
  app.version("--version", "landfall " LANDFALL_VERSION,
              "Display program version information and exit");
  app.footer(commands_in_lines() + "Each has its own --help: landfall play --help");
  app.option("SONG", window.song,
             "A path, a song's name, - or \"A | D | E | A\"; without it, the one left open")
      .names("songs", true);
  music.add_place(app);
  music.add_notes(app);
  music.add_instrument(app);
  music.add_band(app);
  devices.add(app);
  app.option("--lesson", window.lesson, "Opens a lesson: its name, or its file");
  app.option("--profile", window.profile, "Whose history; without it, the usual player's");
  app.option("--display", window.display, "Which display, from 0").range(0, 63);
  app.option("--notes-display", window.notes,
             "A second window with a lesson's notes, on this display, from 0")
      .range(0, 63);
  app.flag("--full-screen", window.full_screen, "Fill the display");
  if (const auto done = app.parse(arguments, streams))
    return *done;
  return with_usage(streams, [&] {
    midi::quieten_sound_libraries();
    catch_signals();
    return open(window, music, devices, streams);
  });
}

} // namespace landfall::app
