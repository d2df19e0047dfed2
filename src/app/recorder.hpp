#pragma once

#include "app/conductor.hpp"
#include "app/take_file.hpp"

#include <filesystem>

namespace landfall::app {

/// A performance that is over, with everything that was played.
struct Recording {
  Take take;
  std::vector<practice::Plan> band;
  std::size_t notes = 0; ///< The player's.
};

/// Records the player all the time, in memory and within bounds; nothing is kept unless it is asked
/// for. One thread.
class Recorder {
public:
  /// How the player's input is read.
  struct Player {
    std::shared_ptr<const neck::Instrument> instrument;
    midi::InputSetup input;
    std::optional<int> split;
  };

  /// A new performance, by its number.
  void begin(std::uint64_t run, Player player);
  /// `at`: the performance tick, latency taken off.
  void hear(Ticks at, const midi::ShortMessage& message);
  /// A turn of a trade that is over.
  void trade(practice::TradeTurn turn);
  std::uint64_t run() const { return run_; }

  /// What was recorded of a performance that ended at `to`.
  Recording finish(const Performed& performed, Ticks to) const;

  /// Messages kept of one performance; the oldest go first.
  static constexpr std::size_t most_messages = 400'000;
  static constexpr std::size_t most_turns = 800;

private:
  std::uint64_t run_ = 0;
  Player player_;
  std::vector<PlayerMessage> messages_;
  std::vector<practice::TradeTurn> turns_;
};

/// The folder of takes, under the player's data.
std::filesystem::path takes_folder();

/// `2026-11-25 0315 Slipway at Six.mid`: the local time given, and nothing that a file name must
/// not hold.
std::string take_file_name(const std::string& title, std::chrono::system_clock::time_point when);

/// Writes it into a folder under a name that is not there yet. Returns a line for the player.
std::string save_recording(const Recording& recording, const band::FeelBook& feels,
                           const std::filesystem::path& folder, const std::string& name);

} // namespace landfall::app
