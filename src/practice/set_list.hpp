#pragma once

#include "neck/position.hpp"
#include "theory/key.hpp"
#include "theory/result.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace landfall::practice {

/// A song with how it is to be played; what is left out is as the song has it.
struct SongPlan {
  std::string song; ///< A song's name or path, or a progression in one line.
  std::optional<theory::Key> key;
  std::optional<double> beats_per_minute; ///< 20 to 400, as the foot taps.
  std::string feel;
  std::optional<neck::PlaceRequest> place;

  bool operator==(const SongPlan&) const = default;
};

/// Songs in the order in which they are played.
struct SetList {
  std::string title;
  std::vector<SongPlan> songs;

  bool operator==(const SetList&) const = default;
};

/// Lines of `name: value`:
///
///     title: Friday at the harbour
///
///     song: slipway-at-six
///     key: Bb
///     tempo: 92
///     feel: shuffle
///     place: E shape
///
///     song: two-harbours
///
/// Errors give line and column. At most 500 songs.
Result<SetList> read_set_list(std::string_view text);

/// Reads back as an equal list; tempos to a thousandth.
std::string as_text(const SetList& list);

} // namespace landfall::practice
