#include "app/background.hpp"

#include <exception>
#include <utility>

namespace landfall::app {
namespace {

std::string outcome(const Background::Job& job) {
  try {
    return job();
  } catch (const std::exception& error) {
    return error.what();
  }
}

} // namespace

Background::Background() : thread_([this] { run(); }) {}

Background::~Background() {
  {
    const std::lock_guard lock(mutex_);
    ending_ = true;
  }
  changed_.notify_all();
  thread_.join();
}

void Background::post(Job job) {
  {
    const std::lock_guard lock(mutex_);
    jobs_.push_back(std::move(job));
  }
  changed_.notify_all();
}

std::vector<std::string> Background::take_lines() {
  const std::lock_guard lock(mutex_);
  return std::exchange(lines_, {});
}

void Background::run() {
  std::unique_lock lock(mutex_);
  for (;;) {
    changed_.wait(lock, [&] { return ending_ || !jobs_.empty(); });
    if (jobs_.empty())
      return;
    const auto job = std::move(jobs_.front());
    jobs_.pop_front();
    lock.unlock();
    auto line = outcome(job);
    lock.lock();
    if (!line.empty())
      lines_.push_back(std::move(line));
  }
}

} // namespace landfall::app
