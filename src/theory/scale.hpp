#pragma once

#include "theory/degree.hpp"

#include <span>

namespace landfall::theory {

/// A named scale: degrees from its root, rising.
struct Scale {
  std::string name;
  std::vector<Degree> degrees;
};

/// Every scale the program knows, in the order in which menus show them.
std::span<const Scale> all_scales();

/// By name or by another name of it, in any case; nullptr if there is none.
const Scale* find_scale(std::string_view name);

/// A root and a scale, from `F# natural minor`.
struct RootedScale {
  Note root;
  const Scale* scale = nullptr;
};
Result<RootedScale> parse_rooted_scale(std::string_view text);

} // namespace landfall::theory
