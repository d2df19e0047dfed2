#pragma once

namespace landfall::app {

/// SIGINT, SIGTERM and SIGHUP only ask to stop; a crash, and any exit() while the band plays,
/// silences every output before it ends the program. Once, at the start.
void catch_signals();

/// Whether a signal asked to stop. Any thread.
bool stop_asked();

} // namespace landfall::app
