#pragma once

#include "app/conductor.hpp"
#include "app/extra_outputs.hpp"
#include "app/input_setups.hpp"
#include "app/inputs.hpp"
#include "app/outputs.hpp"
#include "midi/rtmidi_ports.hpp"
#include "midi/synth.hpp"

#include <functional>
#include <map>
#include <string>

namespace landfall::app {

/// Which devices are wanted: --out, --in, and whether the instrument is to be heard through us.
struct DeviceWish {
  std::string out = "synth"; ///< synth, none, virtual, or part of a port's name.
  std::string in;            ///< none, virtual, part of a port's name; "" for the first there is.
  bool thru = true;
  std::string teacher = "none"; ///< A second input, as `in`: see InputWish.
  midi::ControlMap controls = {};
  bool all_inputs = false;                      ///< While a control is learned.
  std::string clock = {};                       ///< Whose MIDI clock is followed: see InputWish.
  bool sends_clock = false;                     ///< MIDI clock to the output.
  midi::Latency latency = midi::Latency::usual; ///< Of the built-in synth.
  VoiceRoutes routes = {};                      ///< Parts that sound elsewhere or otherwise.
  std::uint16_t thru_channels = 0xFFFF;         ///< Heard through us, bit n for channel n.
  InputSetups setups = {};                      ///< How the inputs spread over channels.

  InputWish inputs() const { return {in, teacher, controls, all_inputs, clock}; }
  bool operator==(const DeviceWish&) const = default;
};

/// How it stands with the devices, in words.
struct DeviceState {
  std::string ports;  ///< `keys in · built-in synth out`
  std::string notice; ///< One line for the player; empty when all is well.
  bool has_input = false;
  std::vector<InputInfo> inputs; ///< All that are open.
  midi::PortLists lists;
  bool output_missing = false; ///< One was named that is not there; something else plays.
  bool input_missing = false;
  bool follows_clock = false; ///< The port is there; whether clocks come, the conductor knows.
  bool looked = false;        ///< Both have been looked for.
  bool ready = false;         ///< The first output is open, or known not to be had.
  std::function<std::uint64_t()> xruns; ///< As OpenedOutput::xruns.
};

/// Opens ports and the synth, keeps them open, and mends what breaks, on a worker thread of its
/// own: devices may block for seconds. All functions may be called by any one thread at a time.
class Devices {
public:
  /// Opens what a wish means; on the worker, and may block.
  using Open = std::function<OpenedOutput(const std::string& wish, midi::Latency latency)>;

  Devices(Conductor& conductor, DeviceWish wish, Open open = app::open_output);
  /// Takes the conductor's senders down. Leaves a blocked one behind: see must_exit_hard().
  ~Devices();

  Devices(const Devices&) = delete;
  Devices& operator=(const Devices&) = delete;

  void wish(const DeviceWish& wish);
  DeviceState state() const;
  /// Waits until state().ready, at most `limit`.
  bool wait_until_ready(std::chrono::milliseconds limit) const;
  /// Waits until state().looked, at most `limit`.
  bool wait_until_looked(std::chrono::milliseconds limit) const;

  /// The next message of all inputs, by their stamps; false when there is none.
  bool pop(midi::StampedMessage& message);

  /// Messages of inputs that are open, lost because nobody popped them.
  std::uint64_t input_drops() const { return inputs_.drops(); }

  /// Whether a blocked device was left behind: the process must then end with _exit.
  /// Any thread, best asked when the last Devices is gone.
  static bool must_exit_hard();

private:
  using Lock = std::unique_lock<std::mutex>;

  void run();
  void tend_output(const DeviceWish& wish);
  bool output_is_gone() const;
  void close_output();
  void open_output(const DeviceWish& wish);
  void tend_extras(const DeviceWish& wish);
  void route(const DeviceWish& wish);
  void connect_thru(const DeviceWish& wish);
  void publish(bool looked);
  std::string input_words() const;
  std::string notice() const;
  static bool is_missing(const std::string& wish, bool has_it);
  static void abandon();

  // devices_server.cpp: what there is, and what went
  /// A synth whose audio device asks for nothing.
  struct Parked {
    std::unique_ptr<midi::Sender> sender;
    std::function<Nanoseconds(TimePoint)> idle_for;
  };
  void look_around();
  bool is_another_server(const midi::JackAnswer& jack);
  bool server_hangs() const;
  void lose_server();
  void lose_outputs_to_server();
  std::vector<std::string> open_ports(std::string_view api) const;
  void look_for_loose(std::vector<std::string> loose);
  void park(Parked synth);
  void end_parked(bool all);

  // devices_thru.cpp: what sounds where
  /// Through which sender an input sounds and how, and with which controls left out.
  struct Lane {
    std::uint64_t opening = 0; ///< Another port of the same name is another; 0: there is none.
    midi::ControlMap controls;
    midi::Sender* sender = nullptr;
    midi::ThruMap map;
    midi::InputSetup setup;

    bool operator==(const Lane&) const = default;
  };
  using Lanes = std::array<Lane, 2>; ///< The player's and the teacher's.
  bool plays_by_synth(Voice voice) const;
  void send_sounds();
  midi::InputSetup setup_on(std::uint8_t lane, const DeviceWish& wish) const;
  midi::ThruMap thru_map(std::uint8_t lane, const DeviceWish& wish) const;
  static void spread_zone(midi::ThruMap& map, bool lower);
  Lane wanted_lane(std::uint8_t lane, const DeviceWish& wish) const;
  void end_thru();
  static void close_lane(midi::Sender* sender, std::uint8_t lane);
  void open_lane(std::uint8_t lane);
  void cut_thru(std::uint8_t input);
  void watch_inputs(Lock& lock, const DeviceWish& wish);

  Conductor& conductor_;
  Open open_;
  midi::PortWatcher watcher_; ///< Worker only, as all to the next comment.
  std::string out_wish_, out_port_, out_words_, out_notice_;
  midi::Sender* sender_ = nullptr;
  midi::Latest<midi::Routing>& routing_; ///< Of the usual output; lasts.
  ExtraOutputs extras_;
  VoiceRoutes routes_;                 ///< As published,
  std::vector<std::string> routed_to_; ///< with these extra outputs open.

  Lanes thru_;
  bool output_open_ = false;
  std::string out_api_;
  bool out_lost_ = false;                  ///< With the sound server that it belonged to.
  bool out_loose_ = false;                 ///< There, but no longer connected to us.
  std::map<std::string, int> found_loose_; ///< How often in a row.
  bool out_on_jack_ = false;               ///< The synth.
  midi::ServerState server_state_ = midi::ServerState::absent;
  TimePoint server_since_; ///< It has been so.
  int server_ = 0;         ///< As JackAnswer::server.
  std::vector<Parked> parked_;
  midi::Latency out_latency_ = midi::Latency::usual;
  std::function<Nanoseconds(TimePoint)> out_idle_for_;
  std::function<std::uint64_t()> out_xruns_;
  bool out_instead_ = false; ///< Something else plays than what was asked for.
  bool out_silent_ = false;  ///< For want of an audio device.
  bool out_again_ = false;   ///< What was asked for may be had now.
  TimePoint out_since_;
  bool out_answered_ = true; ///< False where the one before it blocked, and for a while after that.
  Inputs inputs_;

  mutable std::mutex mutex_; ///< Of everything below.
  mutable std::condition_variable changed_;
  DeviceWish wish_;
  DeviceState state_;
  bool ending_ = false;
  std::thread thread_;
};

} // namespace landfall::app
