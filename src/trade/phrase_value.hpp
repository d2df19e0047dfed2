#pragma once

#include "theory/result.hpp"
#include "time/ticks.hpp"

#include <string>
#include <string_view>

/// Note values as phrase files write them.
namespace landfall::trade {

/// Reads a value from the front of `text` and moves `text` past it: 1 2 4 8 16 32, up to two dots,
/// `t` for triplets (`8t`); values tied by `~` (`2~8`); or `k` and a number of ticks, 960 in a
/// quarter note (`k433`). An error leaves `text` as it was; its column counts from the front.
Result<Ticks> take_value(std::string_view& text);

/// The value in the fewest signs that take_value() reads; ticks where no two tied values do.
std::string value_text(Ticks ticks);

} // namespace landfall::trade
