#pragma once

#include <condition_variable>
#include <deque>
#include <functional>
#include <mutex>
#include <string>
#include <thread>
#include <vector>

namespace landfall::app {

/// A worker thread for files, which may be slow: jobs one after the other, in the order in which
/// they came. What they have to say is fetched by whoever posted them. Any thread but a real-time
/// one.
class Background {
public:
  /// Does something, and returns a line for the player or an empty text. May throw.
  using Job = std::function<std::string()>;

  Background();
  /// Waits for all jobs that were posted.
  ~Background();
  Background(const Background&) = delete;
  Background& operator=(const Background&) = delete;

  void post(Job job);
  /// Lines of the jobs that were done since the last call.
  std::vector<std::string> take_lines();

private:
  void run();

  std::mutex mutex_;
  std::condition_variable changed_;
  std::deque<Job> jobs_;
  std::vector<std::string> lines_;
  bool ending_ = false;
  std::thread thread_;
};

} // namespace landfall::app
