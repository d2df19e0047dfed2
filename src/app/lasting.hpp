#pragma once

#include <memory>
#include <mutex>
#include <vector>

namespace landfall::app {

/// A value that is never taken down: a thread stuck in a blocked device may still use it.
template <typename Value> Value& lasting() {
  static std::mutex mutex;
  static std::vector<std::unique_ptr<Value>> all;
  const std::unique_lock lock(mutex);
  return *all.emplace_back(std::make_unique<Value>());
}

} // namespace landfall::app
