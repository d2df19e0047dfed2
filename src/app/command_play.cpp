#include "app/bare_timer.hpp"
#include "app/device_options.hpp"
#include "app/neck_json.hpp"
#include "app/setup.hpp"
#include "app/signals.hpp"
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

/// Plays until the last chorus is over or a signal comes.
void play(Conductor& conductor) {
  conductor.start();
  while (conductor.rolling() && !stop_asked())
    std::this_thread::sleep_for(std::chrono::milliseconds(5));
  conductor.stop();
}

} // namespace

int run_play(const Arguments& arguments, const Streams& streams) {
  CLI::App app{"Plays a song without a window, until it is stopped.", "landfall play"};
  MusicOptions music;
  DeviceOptions devices_options;
  PlayOptions options;
  app.add_option("SONG", options.song, "A path, a song's name, - or \"A | D | E | A\"")->required();
  app.add_option("--choruses", options.choruses, "How many; without it, for ever")
      ->check(CLI::Range(1, 1'000'000));
  app.add_option("--count-in", options.count_in, "Bars of count-in")
      ->check(CLI::Range(0, 8))
      ->capture_default_str();
  app.add_flag("--timing", options.timing, "Print how late events were sent, as JSON");
  devices_options.add(app);
  music.add_place(app);
  music.add_notes(app);
  music.add_band(app);
  if (const auto done = parse(app, arguments, streams))
    return *done;
  return with_usage(streams, [&]() -> int {
    const auto song = load_song(options.song, streams.in);
    if (!song)
      return complain(streams, song.error()), exit_failure;
    auto setup = setup_for(*song, load_feels(streams), music);
    setup.choruses = options.choruses;
    setup.count_in_bars = options.count_in;
    midi::quieten_sound_libraries();
    catch_signals();
    const auto bare = options.timing ? measure_bare_timer(1000) : midi::LatenessSummary{};
    Conductor conductor(std::move(setup));
    bool hard = false;
    {
      Devices devices(conductor, {devices_options.out.empty() ? "synth" : devices_options.out,
                                  devices_options.in, true});
      devices.wait_until_ready(std::chrono::seconds(10));
      if (const auto notice = devices.state().notice; !notice.empty())
        complain(streams, notice);
      play(conductor);
      if (options.timing)
        print_timing(streams.out, conductor.report(), bare);
      hard = devices.must_exit_hard();
    }
    if (hard)
      _exit(exit_ok);
    return exit_ok;
  });
}

} // namespace landfall::app
