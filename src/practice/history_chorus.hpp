#pragma once

#include "practice/history.hpp"
#include "practice/session.hpp"

namespace landfall::practice {

/// What a chorus is kept with beside its verdicts.
struct ChorusFacts {
  const Timeline* timeline = nullptr;           ///< Of the performance. Never null.
  const neck::Instrument* instrument = nullptr; ///< Never null.
  std::span<const ear::JudgedNote> notes;       ///< What can be said of their timing.
  std::string song;                             ///< As it can be loaded again.
  Instant when;
};

/// The records of a chorus's verdicts, in the order of their ticks: one, or where key, place, note
/// set or target changed on the way one for each stretch of the same. What held no more than rests
/// is left out: listening is not practising.
std::vector<ChorusRecord> records_of(const ChorusFacts& facts,
                                     std::span<const ear::JudgedChange> changes);

} // namespace landfall::practice
