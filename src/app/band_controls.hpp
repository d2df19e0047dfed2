#pragma once

#include "app/conductor.hpp"
#include "app/inputs.hpp"
#include "midi/controls.hpp"

namespace landfall::app {

/// Bound controls where there is no window: what the band alone can do of the table's actions. One
/// thread.
class BandControls {
public:
  explicit BandControls(const midi::ControlMap& map) : controls_(map) {}

  /// Whether the message is a bound control's: then it is not the player's music.
  bool take(const midi::StampedMessage& message, const std::vector<InputInfo>& inputs);

  /// Does what was asked for by `now`; false once the player wants to stop.
  bool act(Conductor& conductor, TimePoint now);

private:
  midi::Controls controls_;
};

} // namespace landfall::app
