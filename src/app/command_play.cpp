#include "app/band_controls.hpp"
#include "app/data.hpp"
#include "app/device_options.hpp"
#include "app/neck_json.hpp"
#include "app/outputs.hpp"
#include "app/setup.hpp"
#include "app/signals.hpp"
#include "app/song_file.hpp"
#include "midi/bare_timer.hpp"
#include "midi/sound_servers.hpp"

#include <iostream>
#include <thread>
#include <unistd.h>

namespace landfall::app {
namespace {

struct PlayOptions {
  std::string song, take;
  int choruses = 0;
  int count_in = 1;
  bool timing = false;
  bool ending = false;
  bool click = false;
  bool loose = false;
};

Json json_of(const midi::LatenessSummary& lateness) {
  return {{"events", lateness.events},
          {"median_us", lateness.median_us},
          {"p99_us", lateness.p99_us},
          {"worst_us", lateness.worst_us}};
}

void print_timing(std::ostream& out, const midi::SenderReport& report,
                  const midi::LatenessSummary& bare) {
  auto json = json_of(report.lateness);
  json["bare"] = json_of(bare);
  json["drops"] = report.drops;
  out << json << std::endl;
}

struct Played {
  std::vector<PlayerMessage> player;
  Transport transport; ///< As it was last.
  Ticks to;            ///< Where it stopped.
};

/// Plays until the last chorus is over or a signal or a control stops it, and listens.
Played play(Conductor& conductor, Devices& devices, BandControls controls) {
  Played played;
  conductor.start();
  for (bool rolling = true; rolling && !stop_asked() && controls.act(conductor, Clock::now());) {
    const auto snapshot = conductor.snapshot();
    rolling = snapshot.transport.rolling;
    if (rolling)
      played.transport = snapshot.transport;
    const auto inputs = devices.state().inputs;
    for (midi::StampedMessage message; devices.pop(message);)
      if (!controls.take(message, inputs) && message.input == player_input)
        played.player.push_back({played.transport.tick_at(message.time), message.message});
    std::this_thread::sleep_for(std::chrono::milliseconds(5));
  }
  played.to = played.transport.tick_at(Clock::now());
  conductor.stop();
  return played;
}

/// Writes what was played as a MIDI file; the reason for a failure, or an empty text.
std::string write_take(const std::string& path, const Conductor& conductor, const Played& played,
                       const band::FeelBook& feels) {
  const auto snapshot = conductor.snapshot();
  const auto plans = conductor.kept_plans();
  const auto timeline = conductor.performed_timeline();
  Recorded recorded;
  recorded.timeline = timeline.get();
  recorded.plans = plans;
  recorded.feels = &feels;
  recorded.title = snapshot.song->title;
  recorded.from = -timeline->count_in;
  recorded.to = std::max(played.to, recorded.from + Ticks{1});
  recorded.player = played.player;
  const auto bytes = midi::smf::write(file_of(recorded));
  const auto reason = write_file(path, {bytes.begin(), bytes.end()});
  return reason.empty() ? "" : path + ": " + reason;
}

/// Waits for the devices. One line if a port that was named is not there, else an empty text.
std::string missing_port(const Devices& devices, const DeviceOptions& options) {
  const bool named = !is_own_output(options.out) ||
                     (!options.in.empty() && options.in != "none" && options.in != "virtual");
  if (!named) {
    devices.wait_until_ready(std::chrono::seconds(10));
    return "";
  }
  devices.wait_until_looked(std::chrono::seconds(10));
  const auto state = devices.state();
  if (state.output_missing)
    return "there is no output port '" + options.out + "' (see landfall ports)";
  if (state.input_missing)
    return "there is no input port '" + options.in + "' (see landfall ports)";
  return "";
}

} // namespace

int run_play(const Arguments& arguments, const Streams& streams) {
  CommandLine app{"Plays a song without a window, until it is stopped.", "landfall play"};
  MusicOptions music;
  DeviceOptions devices_options;
  PlayOptions options;
  app.option("SONG", options.song, "A path, a song's name, - or \"A | D | E | A\"").required();
  app.option("--choruses", options.choruses, "How many; without it, for ever").range(1, 1'000'000);
  app.option("--count-in", options.count_in, "Bars of count-in").range(0, 8).show_default();
  app.flag("--ending", options.ending, "Close the song in the last of --choruses");
  app.flag("--click", options.click, "A click on all beats");
  app.flag("--loose", options.loose, "A few milliseconds and shades off, from the seed");
  app.option("--take", options.take, "Record what was played into this MIDI file");
  app.flag("--timing", options.timing, "Print how late events were sent, as JSON");
  devices_options.add(app);
  music.add_place(app);
  music.add_notes(app);
  music.add_band(app);
  if (const auto done = app.parse(arguments, streams))
    return *done;
  return with_usage(streams, [&]() -> int {
    const auto song = load_song(options.song, streams.in);
    if (!song)
      return complain(streams, song.error()), exit_failure;
    std::string problem;
    const auto controls = controls_of(devices_options, problem);
    if (!controls)
      return complain(streams, controls.error()), exit_failure;
    if (!problem.empty())
      complain(streams, problem);
    const auto feels = load_feels(streams);
    auto setup = setup_for(*song, feels, music);
    if (const auto missing = missing_feels(*song->song, *feels);
        music.feel.empty() && !missing.empty())
      complain(streams, missing);
    setup.choruses = options.choruses;
    setup.count_in_bars = options.count_in;
    setup.ending = options.ending;
    setup.choice.arrangement.humanised = options.loose;
    if (options.click)
      setup.choice.arrangement.click = practice::Click::beats;
    midi::quieten_sound_libraries();
    catch_signals();
    const auto bare = options.timing ? midi::measure_bare_timer(1000, std::chrono::milliseconds(1))
                                     : midi::LatenessSummary{};
    Conductor conductor(std::move(setup));
    if (!options.take.empty())
      conductor.keep_plans();
    std::string failure;
    {
      Devices devices(conductor, {devices_options.out.empty() ? "synth" : devices_options.out,
                                  devices_options.in, true, devices_options.teacher, *controls});
      failure = missing_port(devices, devices_options);
      if (failure.empty()) {
        if (const auto notice = devices.state().notice; !notice.empty())
          complain(streams, notice);
        const auto played = play(conductor, devices, BandControls(*controls));
        if (!options.take.empty())
          failure = write_take(options.take, conductor, played, *feels);
        if (options.timing)
          print_timing(streams.out, conductor.report(), bare);
      }
    }
    if (!failure.empty())
      complain(streams, failure);
    const int exit = failure.empty() ? exit_ok : exit_failure;
    if (Devices::must_exit_hard())
      _exit(exit);
    return exit;
  });
}

} // namespace landfall::app
