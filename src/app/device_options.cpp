#include "app/device_options.hpp"

#include "app/control_files.hpp"

namespace landfall::app {

midi::InputSetup ModeWish::over(midi::InputSetup setup) const {
  setup.mode = mode.value_or(setup.mode);
  setup.base_channel = base_channel.value_or(setup.base_channel);
  if (bend_semitones)
    setup.bend_semitones = *bend_semitones == 0 ? std::nullopt : bend_semitones;
  return setup;
}

void DeviceOptions::add(CommandLine& app) {
  app.option("--out", out, "synth, none, virtual, or part of an output port's name");
  app.option("--latency", latency, "How soon the built-in synth sounds: usual, or low")
      .check(
          [](const std::string& value) {
            return midi::latency_of(value) ? ""
                                           : "there is no latency '" + value + "' (usual, low)";
          },
          "LATENCY");
  app.option("--in", in, "none, virtual, or part of an input port's name");
  app.option("--teacher", teacher, "A second input: none, virtual, or part of its name");
  app.flag("--send-clock", sends_clock, "Send MIDI clock to the output");
  app.option("--follow-clock", clock,
             "Follow the MIDI clock of an input: virtual, or part of its name");
  app.option("--mode", mode, "How --in is read: one, strings, mpe, mpe-upper")
      .check(
          [](const std::string& value) {
            return midi::mode_of(value)
                       ? ""
                       : "there is no mode '" + value + "' (one, strings, mpe, mpe-upper)";
          },
          "MODE");
  app.option("--controls", controls, "A file of bound controls in place of your own");
  app.option("--base-channel", base_channel, "With strings: the channel of string 1")
      .range(1, midi::channel_count);
  app.option("--bend-range", bend_semitones, "Half steps of a full bend; 0: as the input says")
      .range(0, 96);
}

Result<midi::ControlMap, std::string> controls_of(const DeviceOptions& options,
                                                  std::string& problem) {
  return options.controls.empty() ? load_controls(problem) : read_controls(options.controls);
}

ModeWish DeviceOptions::mode_wish() const {
  ModeWish wish;
  wish.mode = midi::mode_of(mode);
  if (base_channel > 0)
    wish.base_channel = base_channel - 1;
  if (bend_semitones >= 0)
    wish.bend_semitones = bend_semitones;
  return wish;
}

} // namespace landfall::app
