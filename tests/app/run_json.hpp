#pragma once

#include "app/run_command.hpp"

#include <nlohmann/json.hpp>

namespace landfall::test {

/// The one JSON document that a command printed.
inline nlohmann::json json_of(const Ran& ran) {
  return nlohmann::json::parse(ran.out);
}

/// The JSON lines that a command printed.
inline std::vector<nlohmann::json> lines_of(const Ran& ran) {
  std::vector<nlohmann::json> all;
  std::istringstream in(ran.out);
  for (std::string line; std::getline(in, line);)
    all.push_back(nlohmann::json::parse(line));
  return all;
}

} // namespace landfall::test
