#pragma once

#include <cstdint>
#include <initializer_list>

namespace landfall {

/// The finalising step of splitmix64 (Steele, Lea, Flood 2014): every bit of the result depends on
/// every bit of the input. The same on all platforms.
constexpr std::uint64_t mixed(std::uint64_t value) {
  value += 0x9e3779b97f4a7c15u;
  value = (value ^ (value >> 30)) * 0xbf58476d1ce4e5b9u;
  value = (value ^ (value >> 27)) * 0x94d049bb133111ebu;
  return value ^ (value >> 31);
}

/// A number that looks random, from the numbers that it depends on; their order matters.
constexpr std::uint64_t drawn(std::initializer_list<std::uint64_t> from) {
  std::uint64_t state = 0;
  for (const auto value : from)
    state = mixed(state ^ value);
  return state;
}

/// In [0, count); `count` is above 0.
constexpr std::size_t drawn_below(std::size_t count, std::initializer_list<std::uint64_t> from) {
  return static_cast<std::size_t>(drawn(from) % count);
}

} // namespace landfall
