#pragma once

#include "app/input_setups.hpp"
#include "app/look.hpp"
#include "app/part_routes.hpp"
#include "midi/synth.hpp"
#include "practice/choice.hpp"
#include "practice/routine.hpp"
#include "practice/set_list.hpp"

#include <filesystem>
#include <map>
#include <string>

namespace landfall::app {

/// What the player plays, as --instrument, --tuning and --capo.
struct InstrumentChoice {
  std::string name = "guitar";
  std::string tuning;      ///< "" for the instrument's own.
  std::optional<int> capo; ///< None: where the instrument has it.

  bool operator==(const InstrumentChoice&) const = default;
};

/// What is remembered from one start to the next.
struct Settings {
  bool started_before = false;
  std::string song = "slipway-at-six";
  std::string key; ///< "" for the song's own.
  std::string shape;
  std::optional<int> position;
  std::string set, over, target;
  double beats_per_minute = 0; ///< 0 for the song's own.
  InstrumentChoice instrument;
  std::string out = "synth"; ///< As --out.
  midi::Latency latency = midi::Latency::usual;
  std::string in;                       ///< As --in; "" takes the first input there is.
  std::string teacher = "none";         ///< A second input, as --teacher.
  std::string clock;                    ///< As --follow-clock; "" for none.
  bool sends_clock = false;             ///< As --send-clock.
  VoiceRoutes routes;                   ///< As --part. In the file as text, one for each part.
  std::uint16_t thru_channels = 0xFFFF; ///< As --thru-channels.
  std::string teacher_instrument;       ///< "" for the player's own.
  InputSetups inputs;
  std::map<std::string, practice::SongPlan> songs; ///< How each was left, by its name.
  std::map<std::string, int>
      lessons;                   ///< The scene, from 0, where each was left, by its file's name.
  std::vector<std::string> band; ///< Commands, as practice::command_text: click, levels, ...
  bool own_sound = false;        ///< The instrument makes its own sound: no thru.
  Look look;
  /// Of the timed routine; empty for the usual one. In the file: [{"play": "weak", "minutes": 5}].
  std::vector<practice::RoutinePart> routine;

  bool operator==(const Settings&) const = default;
};

/// The remembered settings, or the usual ones. A file that cannot be read is kept beside it under
/// another name, and `problem` says so in one line.
Settings load_settings(const std::filesystem::path& file, std::string& problem);

/// Returns the reason for a failure, else an empty text.
std::string save_settings(const std::filesystem::path& file, const Settings& settings);

std::filesystem::path settings_file();

} // namespace landfall::app
