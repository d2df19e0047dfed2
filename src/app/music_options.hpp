#pragma once

#include "app/command_line.hpp"
#include "neck/label.hpp"
#include "neck/target.hpp"
#include "theory/note_set.hpp"

#include <optional>
#include <string>

namespace landfall::app {

/// What --labels takes.
inline const std::vector<std::string> label_names{"degree", "key", "note", "finger", "none"};

/// The musical options that commands share, as typed.
struct MusicOptions {
  std::string key, shape, set, over, target, show = "all", labels = "degree", tuning, instrument,
                                             tempo, feel;
  std::optional<int> position, capo;
  std::uint64_t seed = 1;

  void add_place(CommandLine& app);      ///< --key --shape --position
  void add_notes(CommandLine& app);      ///< --set --over --target
  void add_views(CommandLine& app);      ///< --show --labels
  void add_instrument(CommandLine& app); ///< --instrument --tuning --capo
  void add_band(CommandLine& app);       ///< --tempo --feel --seed
};

/// A wrong value in an option: one line, for exit_usage.
struct UsageError {
  std::string reason;
};

// Each reads one of the options, and throws UsageError. An option that was not given is the
// default.
theory::Key key_of(const MusicOptions& options, theory::Key standard);
neck::PlaceRequest place_of(const MusicOptions& options);
theory::NoteSet set_of(const MusicOptions& options, const std::string& standard);
theory::Over over_of(const MusicOptions& options, const theory::NoteSet& set);
neck::Target target_of(const MusicOptions& options);
neck::Shown shown_of(const MusicOptions& options);
neck::LabelKind labels_of(const MusicOptions& options);
neck::Instrument instrument_of(const MusicOptions& options);
/// Beats a minute as the foot taps, 20 to 400.
std::optional<double> tempo_of(const MusicOptions& options);

/// The place on the instrument; throws UsageError where there is none.
neck::Position position_of(const neck::Instrument& instrument, theory::Key key,
                           const neck::PlaceRequest& request);

/// Runs `body` and turns a UsageError into its one line and exit_usage.
template <typename Body> int with_usage(const Streams& streams, Body body) {
  try {
    return body();
  } catch (const UsageError& error) {
    complain(streams, error.reason);
    return exit_usage;
  }
}

} // namespace landfall::app
