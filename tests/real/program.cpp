#include "real/program.hpp"

namespace landfall::real {
namespace {

Environment joined(Environment all, const Environment& more) {
  for (const auto& [name, value] : more)
    all[name] = value;
  return all;
}

Command command(Command arguments) {
  arguments.insert(arguments.begin(), LANDFALL_PROGRAM);
  return arguments;
}

} // namespace

Environment Program::environment() const {
  return {{"HOME", folder()},
          {"XDG_CONFIG_HOME", folder() + "/config"},
          {"XDG_DATA_HOME", folder() + "/data"},
          {"XDG_RUNTIME_DIR", std::nullopt},
          {"PULSE_SERVER", std::nullopt},
          {"LANDFALL_DATA", LANDFALL_SOURCE_DIR}};
}

std::unique_ptr<Child> Program::start(Command arguments, const Environment& more) const {
  return std::make_unique<Child>(command(std::move(arguments)), folder(),
                                 joined(environment(), more));
}

Finished Program::run(Command arguments, const Environment& more) const {
  return real::run(command(std::move(arguments)), folder(), joined(environment(), more));
}

} // namespace landfall::real
