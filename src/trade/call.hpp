#pragma once

#include "neck/view.hpp"
#include "trade/phrase.hpp"
#include "trade/rhythm.hpp"

#include <span>

namespace landfall::trade {

/// How many calls pass before one may come back by chance.
inline constexpr std::size_t calls_without_repeat = 20;

/// What a call is made of.
struct CallRequest {
  const song::Form* form = nullptr; ///< Never null; in its key.
  int bar = 1;                      ///< The turn's first bar, from 1 to the form's last.
  int bars = 2;                     ///< Of the turn, 1 to 8.
  neck::Setting setting;
  Groove groove;
  Density density;
  Tempo tempo;
  std::uint64_t seed = 1;
  std::span<const std::uint64_t> recent; ///< Fingerprints of calls that it must differ from.
};

/// Makes a call: a motif, repeated and varied, that lies under the hand, keeps to the note set but
/// for declared approach notes and enclosures, and lands on a chord tone at its end and at every
/// change that it plays through. The same request gives the same call. Without notes only where the
/// place has none. Pure; below 2 ms for four bars.
Phrase make_call(const CallRequest& request);

/// The same for calls with the same notes at the same times, whatever they lie over.
std::uint64_t fingerprint(const Phrase& phrase);

} // namespace landfall::trade
