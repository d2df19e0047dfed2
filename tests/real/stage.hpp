#pragma once

#include "real/score.hpp"
#include "real/screen_studio.hpp"

namespace landfall::real {

/// The window on a screen, playing to one independent client and played by another, both on real
/// JACK ports; or the reason to skip.
class Stage : public ScreenStudio {
public:
  Stage();
  /// Opens the window and waits for the band.
  void open();

  /// Everything that came to an input of the listening client so far.
  std::vector<Recorded> heard(std::size_t input = 0) const { return client->recorded(input); }
  /// Waits until so many more notes have begun.
  bool plays_on(std::size_t input = 0, int notes = 8) const;
  /// Waits for a moment at which a note of the band sounds.
  bool something_sounds(std::size_t input = 0) const;
  /// Waits until nothing sounds.
  bool silent(std::size_t input = 0, std::chrono::milliseconds limit = soon) const;
  /// Whether every note that sounds now ends within `limit`, the band playing on or not.
  bool ends_what_sounds(std::size_t input = 0, std::chrono::milliseconds limit = soon) const;

  /// The player holds a note that is heard through the program; false when it does not come.
  bool hold(int note) const;
  bool is_held(int note) const;

  static constexpr std::chrono::milliseconds soon{2500};

  std::unique_ptr<JackClient> keys;
  std::unique_ptr<Child> window;
};

} // namespace landfall::real
