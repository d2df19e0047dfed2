#pragma once

#include "real/screen.hpp"
#include "real/studio.hpp"

namespace landfall::real {

/// A studio with a screen for the program's window; or the reason to skip.
struct ScreenStudio : Studio {
  ScreenStudio();
  explicit operator bool() const { return Studio::operator bool() && screen.running(); }

  /// Starts the program on the screen.
  std::unique_ptr<Child> start(const Command& arguments) const {
    return program.start(arguments, screen.environment());
  }

  Screen screen;
};

/// Waits until what is counted stays the same for longer than a beat; false when it never does.
bool falls_silent(const std::function<std::size_t()>& count);

/// A foot switch goes down and up.
void tread(JackClient& client, int number);

} // namespace landfall::real
