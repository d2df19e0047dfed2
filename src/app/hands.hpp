#pragma once

#include "app/frame_builder.hpp"
#include "neck/fretboard.hpp"

#include <deque>
#include <map>

namespace landfall::app {

/// The fret at which `string` (1 is the highest) sounds `midi`; none where it can't.
std::optional<int> fret_of(const neck::Instrument& instrument, int string, int midi);

/// What the player is doing: the notes that sound, and what was played lately. Fed by the window's
/// thread with the input's stamps; reads no clock.
class Hands {
public:
  /// Where a note comes from, so that its own end ends it: an input's channel, a mouse, a key.
  struct Source {
    int channel = 0;
    int midi = 60;

    auto operator<=>(const Source&) const = default;
  };

  struct Strike {
    TimePoint when;
    std::optional<Ticks> tick; ///< While the band plays.
    ear::NoteClass kind = ear::NoteClass::outside;
    std::optional<int> string, fret; ///< Where it was played, if known.
  };

  void strike(Source source, const Strike& strike);
  void release(Source source, TimePoint when, std::optional<Ticks> tick);
  void bend(int channel, double half_steps);
  /// Lets everything go and forgets bends, as when the input is unplugged.
  void release_all(TimePoint when, std::optional<Ticks> tick);

  /// What sounds at `now`, the lately released fading.
  std::vector<SoundingNote> sounding(TimePoint now) const;
  std::vector<PlayedNote> played() const;

  /// Whether something is still fading at `now`: the picture must be drawn again.
  bool fading(TimePoint now) const;

  /// Forgets what was played, as at a new start; and what has faded.
  void forget_played();
  void tidy(TimePoint now, Ticks oldest);

private:
  struct Held {
    SoundingNote note;
    std::optional<TimePoint> released;
    std::size_t played = 0; ///< Number in the order of playing.
  };

  std::multimap<Source, Held> notes_;
  std::map<int, double> bends_;
  std::deque<PlayedNote> played_;
  std::size_t forgotten_ = 0; ///< How many were taken from the front of played_.
};

} // namespace landfall::app
