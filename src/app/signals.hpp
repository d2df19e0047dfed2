#pragma once

namespace landfall::app {

/// SIGINT and SIGTERM only ask to stop; a crash silences every output before it ends the program.
void catch_signals();

/// Whether a signal asked to stop. Any thread.
bool stop_asked();

} // namespace landfall::app
