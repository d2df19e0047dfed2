#pragma once

#include "midi/message.hpp"
#include "time/ticks.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <limits>

namespace landfall::midi {

/// A note that was switched on and not yet off.
struct Sounding {
  static constexpr Ticks until_told{std::numeric_limits<std::int64_t>::max()};

  Ticks off; ///< When the plan ends it; until_told for notes that are played live.
  std::uint8_t channel = 0;
  std::uint8_t note = 0;
  std::uint8_t source = 0; ///< Who struck it: meaning is the owner's.
};

/// The sounding notes of one output: at most one for each channel and note, so nothing is ever
/// refused. Fixed size; real-time safe; one thread.
class SoundingNotes {
public:
  std::size_t size() const noexcept { return size_; }
  const Sounding& operator[](std::size_t i) const noexcept { return notes_[i]; }

  /// Where the note is in the list, or size().
  std::size_t find(int channel, int note) const noexcept {
    std::size_t i = 0;
    while (i < size_ && (notes_[i].channel != channel || notes_[i].note != note))
      ++i;
    return i;
  }

  /// Adds a note; it must not be there.
  void add(const Sounding& note) noexcept { notes_[size_++] = note; }

  /// Takes one out; the last moves into its place.
  void remove(std::size_t i) noexcept { notes_[i] = notes_[--size_]; }

  /// The planned note that ends first; or size().
  std::size_t next_to_end() const noexcept {
    std::size_t found = size_;
    Ticks first = Sounding::until_told;
    for (std::size_t i = 0; i < size_; ++i)
      if (notes_[i].off < first) {
        first = notes_[i].off;
        found = i;
      }
    return found;
  }

private:
  static constexpr std::size_t limit = std::size_t{channel_count} * note_count;

  std::array<Sounding, limit> notes_;
  std::size_t size_ = 0;
};

} // namespace landfall::midi
