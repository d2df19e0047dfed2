#pragma once

#include "app/command_line.hpp"
#include "app/devices.hpp"

namespace landfall::app {

/// --out and --in, as typed.
struct DeviceOptions {
  std::string out, in;

  void add(CommandLine& app) {
    app.option("--out", out, "synth, none, virtual, or part of an output port's name");
    app.option("--in", in, "none, virtual, or part of an input port's name");
  }
};

} // namespace landfall::app
