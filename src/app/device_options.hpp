#pragma once

#include "app/command_line.hpp"
#include "app/devices.hpp"

namespace landfall::app {

/// --out and --in, as typed.
struct DeviceOptions {
  std::string out, in;

  void add(CLI::App& app) {
    app.add_option("--out", out, "synth, none, virtual, or part of an output port's name");
    app.add_option("--in", in, "none, virtual, or part of an input port's name");
  }
};

} // namespace landfall::app
