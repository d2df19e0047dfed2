#pragma once

#include "time/ticks.hpp"

#include <condition_variable>
#include <functional>
#include <mutex>
#include <thread>

namespace landfall::app {

/// Clicks at exact moments, on a thread of its own, until it is done or destroyed.
class Clicker {
public:
  /// `click` is called at `first` and every `interval` after it, `count` times, with the number of
  /// the click from 0, on the clicker's thread; it may take up to a tenth of a second.
  Clicker(TimePoint first, Nanoseconds interval, int count, std::function<void(int)> click);
  ~Clicker();
  Clicker(const Clicker&) = delete;
  Clicker& operator=(const Clicker&) = delete;

private:
  void run(TimePoint first, Nanoseconds interval, int count);

  std::function<void(int)> click_;
  std::mutex mutex_;
  std::condition_variable stop_;
  bool stopped_ = false;
  std::thread thread_;
};

} // namespace landfall::app
