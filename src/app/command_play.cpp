#include "app/band_controls.hpp"
#include "app/data.hpp"
#include "app/device_options.hpp"
#include "app/neck_json.hpp"
#include "app/outputs.hpp"
#include "app/own_sets.hpp"
#include "app/play_trade.hpp"
#include "app/recorder.hpp"
#include "app/review_json.hpp"
#include "app/setup.hpp"
#include "app/signals.hpp"
#include "midi/bare_timer.hpp"
#include "midi/input_reader.hpp"
#include "midi/message.hpp"
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
  bool judge = false;
};

Json json_of(const midi::LatenessSummary& lateness) {
  return {{"events", lateness.events},
          {"median_us", lateness.median_us},
          {"p99_us", lateness.p99_us},
          {"worst_us", lateness.worst_us}};
}

/// How many were late by at most so much; the last has no end.
Json json_of(const midi::HistogramCounts& counts) {
  auto columns = Json::array();
  for (std::size_t i = 0; i < counts.size(); ++i) {
    const bool last = i == midi::histogram_ends_us.size();
    columns.push_back({{"up_to_us", last ? Json(nullptr) : Json(midi::histogram_ends_us[i])},
                       {"events", counts[i]}});
  }
  return columns;
}

void print_timing(std::ostream& out, const midi::SenderReport& report,
                  const midi::LatenessSummary& bare, const DeviceState& devices) {
  auto json = json_of(report.lateness);
  json["bare"] = json_of(bare);
  json["drops"] = report.drops;
  json["realtime"] = report.realtime;
  json["histogram"] = json_of(report.histogram);
  if (devices.xruns)
    json["xruns"] = devices.xruns();
  out << json << std::endl;
}

/// Who listens while it plays.
struct Ears {
  Recorder recorder;
  std::optional<Listener> listener;
  midi::InputReader reader;
  midi::InputSetup input;
  Ticks to; ///< Where it stopped, or has come to.
};

void hear(Ears& ears, const Transport& transport, const midi::StampedMessage& message) {
  const auto late = midi::latency_of(ears.input, midi::channel_of(message.message));
  const auto at = transport.tick_at(message.time - late);
  ears.recorder.hear(at, message.message);
  for (const auto& event : ears.reader.read(message))
    ears.listener->hear(event, at);
}

/// Begins at once, or when the clock that is followed starts. False if it is stopped before.
bool begin(Conductor& conductor, const Devices& devices) {
  if (!devices.state().follows_clock) {
    conductor.start();
    return true;
  }
  while (!conductor.rolling() && !stop_asked())
    std::this_thread::sleep_for(std::chrono::milliseconds(5));
  return conductor.rolling();
}

/// Plays until the last chorus is over or a signal or a control stops it, and listens. Says what is
/// wrong with the devices, each time that this changes. `trade` may be null.
void play(Conductor& conductor, Devices& devices, BandControls controls, Ears& ears,
          PlayTrade* trade, std::ostream* lines, const Streams& streams) {
  std::string said;
  Transport transport;
  Snapshot last;
  for (bool rolling = begin(conductor, devices);
       rolling && !stop_asked() && controls.act(conductor, Clock::now());) {
    const auto snapshot = conductor.snapshot();
    rolling = snapshot.transport.rolling;
    if (rolling)
      transport = snapshot.transport, last = snapshot;
    const auto until = Clock::now();
    const auto state = devices.state();
    if (said != state.notice && !(said = state.notice).empty())
      complain(streams, said);
    for (midi::StampedMessage message; devices.pop(message);)
      if (!controls.take(message, state.inputs) && message.input == player_input)
        hear(ears, transport, message);
    const auto heard = transport.tick_at(until - hearing_delay(ears.input));
    if (rolling)
      ears.listener->advance(*snapshot.timeline, heard);
    if (rolling && trade != nullptr)
      trade->advance(conductor, *ears.listener, ears.recorder, transport.tick_at(until), heard);
    if (trade != nullptr && lines != nullptr)
      for (const auto& line : trade->take_lines())
        *lines << line << std::endl;
    std::this_thread::sleep_for(std::chrono::milliseconds(5));
  }
  ears.to = transport.tick_at(Clock::now());
  conductor.stop();
  if (trade == nullptr || !last.timeline)
    return;
  ears.listener->finish(*conductor.performed()->timeline, ears.to);
  last.timeline = conductor.performed()->timeline;
  trade->end(last, *ears.listener, ears.recorder, ears.to);
}

Ears ears_for(const Conductor& conductor, const Devices& devices, const ModeWish& wish,
              const neck::Instrument& instrument, std::shared_ptr<const band::FeelBook> feels) {
  Ears ears;
  std::string ignored;
  const auto remembered = load_settings(settings_file(), ignored);
  for (const auto& input : devices.state().inputs)
    if (input.role == InputRole::player)
      ears.input = setup_of(remembered.inputs, input.name);
  ears.input = wish.over(ears.input);
  ears.reader = midi::InputReader(ears.input);
  const auto shared = std::make_shared<const neck::Instrument>(instrument);
  ears.listener.emplace(
      Listener::Setup{shared, std::move(feels), &own_sets().fitting, ears.input, {}});
  ears.recorder.begin(conductor.snapshot().run + 1, {shared, ears.input, {}});
  return ears;
}

/// The verdicts as they were reached while it played.
void print_verdicts(std::ostream& out, Ears& ears, const Take& take, const PlayTrade* trade) {
  ears.listener->finish(take.head.timeline, take.head.to);
  auto judgement = ears.listener->judgement(take.head.to);
  judgement.changes = ears.listener->changes();
  judgement.summary = ear::summary_of(judgement.changes, judgement.notes);
  Reviewed reviewed{std::move(judgement), {}};
  if (trade != nullptr)
    reviewed.trade = trade->turns();
  out << review_json(reviewed, take_tempo(take.head.timeline)) << std::endl;
}

/// Writes what was played as a take; the reason for a failure, or an empty text.
std::string write_take(const std::string& path, const Recording& recording,
                       const band::FeelBook& feels) {
  const auto bytes = take_bytes(recording.take, recording.band, feels);
  const auto reason = write_file(path, {bytes.begin(), bytes.end()});
  return reason.empty() ? "" : path + ": " + reason;
}

/// Waits for the devices. One line if a port that was named is not there, else an empty text.
std::string missing_port(const Devices& devices, const DeviceOptions& options) {
  const bool named = !is_own_output(options.out) ||
                     (!options.in.empty() && options.in != "none" && options.in != "virtual") ||
                     !options.clock.empty();
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
  if (!options.clock.empty() && !state.follows_clock)
    return "there is no input port '" + options.clock + "' (see landfall ports)";
  return "";
}

} // namespace

int run_play(const Arguments& arguments, const Streams& streams) {
  CommandLine app{"Plays a song without a window, until it is stopped.", "landfall play"};
  MusicOptions music;
  DeviceOptions devices_options;
  PlayOptions options;
  TradeOptions trade_options;
  app.option("SONG", options.song, "A path, a song's name, - or \"A | D | E | A\"")
      .required()
      .names("songs", true);
  app.option("--choruses", options.choruses, "How many; without it, for ever").range(1, 1'000'000);
  app.option("--count-in", options.count_in, "Bars of count-in").range(0, 8).show_default();
  app.flag("--ending", options.ending, "Close the song in the last of --choruses");
  app.flag("--click", options.click, "A click on all beats");
  app.flag("--loose", options.loose, "A few milliseconds and shades off, from the seed");
  app.option("--take", options.take, "Record what was played into this MIDI file").file();
  app.flag("--timing", options.timing, "Print how late events were sent, as JSON");
  app.flag("--judge", options.judge, "Print at the end how the changes were met, as review does");
  trade_options.add(app);
  devices_options.add(app);
  music.add_place(app);
  music.add_notes(app);
  music.add_instrument(app);
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
    if (const auto missing = missing_feels(*song->song, feels->names());
        music.feel.empty() && !missing.empty())
      complain(streams, missing);
    if (const auto kept = kept_mode(*song->song, music); !kept.empty())
      complain(streams, kept);
    setup.choruses = options.choruses;
    setup.count_in_bars = options.count_in;
    setup.ending = options.ending;
    setup.choice.arrangement.humanised = options.loose;
    if (options.click)
      setup.choice.arrangement.click = practice::Click::beats;
    std::optional<PlayTrade> trade;
    std::vector<std::string> problems;
    if (trade_options.wanted())
      trade.emplace(trade_options, setup.seed, instrument_of(music), feels, problems);
    for (const auto& each : problems)
      complain(streams, each);
    midi::quieten_sound_libraries();
    catch_signals();
    const auto bare = options.timing ? midi::measure_bare_timer(1000, std::chrono::milliseconds(1))
                                     : midi::LatenessSummary{};
    Conductor conductor(std::move(setup));
    conductor.keep_plans();
    std::string failure;
    {
      DeviceWish wish{devices_options.out.empty() ? "synth" : devices_options.out,
                      devices_options.in,
                      true,
                      devices_options.teacher,
                      *controls,
                      false,
                      devices_options.clock,
                      devices_options.sends_clock};
      const auto remembered = load_settings(settings_file(), problem);
      const auto routes = routes_of(devices_options, {});
      if (!routes)
        throw UsageError{routes.error()};
      wish.routes = *routes;
      wish.thru_channels =
          read_channels(devices_options.thru_channels).value_or(wish.thru_channels);
      wish.setups = remembered.inputs;
      wish.latency = midi::latency_of(devices_options.latency).value_or(wish.latency);
      Devices devices(conductor, wish);
      failure = missing_port(devices, devices_options);
      if (failure.empty()) {
        auto ears =
            ears_for(conductor, devices, devices_options.mode_wish(), instrument_of(music), feels);
        for (const auto& input : devices.state().inputs)
          if (input.role == InputRole::player)
            wish.setups[input.name] = ears.input; // so it is heard as it is read
        devices.wish(wish);
        play(conductor, devices, BandControls(*controls), ears, trade ? &*trade : nullptr,
             options.judge ? nullptr : &streams.out, streams);
        if (const auto performed = conductor.performed()) {
          const auto recording = ears.recorder.finish(*performed, ears.to);
          if (!options.take.empty())
            failure = write_take(options.take, recording, *feels);
          if (options.judge)
            print_verdicts(streams.out, ears, recording.take, trade ? &*trade : nullptr);
        }
        if (options.timing)
          print_timing(streams.out, conductor.report(), bare, devices.state());
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
