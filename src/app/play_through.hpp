#pragma once

#include "midi/plan.hpp"
#include "neck/view.hpp"

#include <vector>

namespace landfall::app {

/// A set or an arpeggio in time, one note an eighth.
struct PlayThrough {
  std::vector<neck::NeckNote> notes; ///< In the order in which they sound.
  Ticks from;                        ///< Of the first, a performance tick.

  Ticks to() const;
  /// The note that sounds at a performance tick; null before and after.
  const neck::NeckNote* at(Ticks tick) const;
};

/// From the lowest root up to the top of what lies under the hand, down to the bottom, and back to
/// that root. `all` or only the landing notes of the set; empty where there are none. Without a
/// root it begins at the lowest note.
std::vector<neck::NeckNote> up_and_down(const std::vector<neck::NeckNote>& notes, bool all);

/// As messages on the lead channel.
std::vector<midi::PlannedMessage> messages_of(const PlayThrough& through);

} // namespace landfall::app
