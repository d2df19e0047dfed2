#include "app/clicker.hpp"

#include <utility>

namespace landfall::app {

Clicker::Clicker(TimePoint first, Nanoseconds interval, int count, std::function<void(int)> click)
    : click_(std::move(click)), thread_([=, this] { run(first, interval, count); }) {}

Clicker::~Clicker() {
  {
    const std::scoped_lock lock(mutex_);
    stopped_ = true;
  }
  stop_.notify_all();
  thread_.join();
}

void Clicker::run(TimePoint first, Nanoseconds interval, int count) {
  std::unique_lock lock(mutex_);
  for (int number = 0; number < count; ++number) {
    if (stop_.wait_until(lock, first + interval * number, [&] { return stopped_; }))
      return;
    lock.unlock();
    click_(number);
    lock.lock();
  }
}

} // namespace landfall::app
