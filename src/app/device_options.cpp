#include "app/device_options.hpp"

#include "app/control_files.hpp"
#include "midi/message.hpp"

#include <algorithm>
#include <charconv>

namespace landfall::app {

midi::InputSetup ModeWish::over(midi::InputSetup setup) const {
  setup.mode = mode.value_or(setup.mode);
  setup.base_channel = base_channel.value_or(setup.base_channel);
  if (bend_semitones)
    setup.bend_semitones = *bend_semitones == 0 ? std::nullopt : bend_semitones;
  return setup;
}

void DeviceOptions::add(CommandLine& app) {
  app.option("--out", out, "synth, none, virtual, or part of an output port's name")
      .values({"synth", "none", "virtual"});
  app.option("--latency", latency, "How soon the built-in synth sounds: usual, or low")
      .check(
          [](const std::string& value) {
            return midi::latency_of(value) ? ""
                                           : "there is no latency '" + value + "' (usual, low)";
          },
          "LATENCY")
      .values({"usual", "low"});
  app.option("--in", in, "none, virtual, or part of an input port's name")
      .values({"none", "virtual"});
  app.option("--teacher", teacher, "A second input: none, virtual, or part of its name");
  app.option("--part", parts,
             "Where a part sounds: \"bass: channel 3, program 34, port NAME\" (again for more)");
  app.option("--thru-channels", thru_channels, "Your channels that are heard: 1-3,5 or all")
      .check(
          [](const std::string& value) {
            return read_channels(value) ? "" : "expected channels from 1 to 16, as in 1-3,5";
          },
          "CHANNELS");
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
          "MODE")
      .values(mode_names);
  app.option("--controls", controls, "A file of bound controls in place of your own").file();
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

Result<VoiceRoutes, std::string> routes_of(const DeviceOptions& options, VoiceRoutes routes) {
  for (const auto& part : options.parts) {
    auto read = read_voice_route(part);
    if (!read)
      return "--part: column " + std::to_string(read.error().column) + ": " + read.error().reason;
    routes.insert_or_assign(read->first, read->second);
  }
  return routes;
}

std::optional<std::uint16_t> read_channels(std::string_view text) {
  if (text == "all")
    return std::uint16_t{0xFFFF};
  unsigned channels = 0;
  for (std::size_t at = 0; at <= text.size();) {
    const auto end = std::min(text.find(',', at), text.size());
    const auto item = text.substr(at, end - at);
    const auto dash = std::min(item.find('-'), item.size());
    const auto number = [](std::string_view digits) {
      const auto first = std::min(digits.find_first_not_of(' '), digits.size());
      digits.remove_prefix(first);
      digits = digits.substr(0, digits.find(' '));
      int value = 0;
      const auto [stop, error] =
          std::from_chars(digits.data(), digits.data() + digits.size(), value);
      const bool whole = error == std::errc{} && stop == digits.data() + digits.size();
      return whole && value >= 1 && value <= midi::channel_count ? value : 0;
    };
    const int low = number(item.substr(0, dash));
    const int high = dash == item.size() ? low : number(item.substr(dash + 1));
    if (low == 0 || high < low)
      return std::nullopt;
    for (int channel = low; channel <= high; ++channel)
      channels |= 1U << static_cast<unsigned>(channel - 1);
    at = end + 1;
  }
  return static_cast<std::uint16_t>(channels);
}

std::string channels_text(std::uint16_t channels) {
  if (channels == 0xFFFF)
    return "all";
  std::string text;
  for (int first = 0; first < midi::channel_count; ++first) {
    if ((channels >> first & 1) == 0)
      continue;
    int last = first;
    while (last + 1 < midi::channel_count && (channels >> (last + 1) & 1) != 0)
      ++last;
    text += (text.empty() ? "" : ",") + std::to_string(first + 1);
    if (last > first)
      text += "-" + std::to_string(last + 1);
    first = last;
  }
  return text;
}

} // namespace landfall::app
