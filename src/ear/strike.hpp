#pragma once

#include "ear/ground.hpp"
#include "ear/heard.hpp"
#include "ear/settings.hpp"

#include <span>

namespace landfall::ear {

/// Onsets within 40 ms are one event: a strike.
struct Strike {
  Ticks at;              ///< Of its first onset.
  std::size_t first = 0; ///< Index in Line::order.
  std::size_t count = 1;
};

/// The strikes of notes, without ghosts and what lies below the split. Rising.
class Line {
public:
  Line(const Ground& ground, std::span<const HeardNote> notes, const Settings& settings);

  std::size_t size() const { return strikes_.size(); }
  bool empty() const { return strikes_.empty(); }
  const Strike& operator[](std::size_t i) const { return strikes_[i]; }

  /// Indices of a strike's notes.
  std::span<const std::size_t> notes_of(std::size_t strike) const {
    return {order_.data() + strikes_[strike].first, strikes_[strike].count};
  }
  const HeardNote& note(std::size_t index) const { return notes_[index]; }
  const std::vector<std::size_t>& order() const { return order_; }

  /// The first strike at or after a tick; size() if there is none.
  std::size_t from(Ticks tick) const;

private:
  std::span<const HeardNote> notes_;
  std::vector<std::size_t> order_; ///< Indices of the notes that are judged.
  std::vector<Strike> strikes_;
};

/// Softer and shorter than the settings have it: what a converter mistook.
bool is_ghost(const HeardNote& note, const Settings& settings, Tempo tempo);

} // namespace landfall::ear
