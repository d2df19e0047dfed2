#pragma once

#include "app/history_store.hpp"

#include <condition_variable>
#include <deque>
#include <mutex>
#include <thread>

namespace landfall::app {

/// Keeps a player's history from a worker thread of its own: reads it at the start, adds what is
/// pushed, tries again every few seconds what could not be written. All functions may be called by
/// any thread but a real-time one, and return at once; only the destructor waits, for one last
/// attempt.
class HistoryKeeper {
public:
  /// `file`: see history_file(). `retry`: how long to wait after a failure.
  explicit HistoryKeeper(std::filesystem::path file,
                         std::chrono::milliseconds retry = std::chrono::seconds(5));
  ~HistoryKeeper();
  HistoryKeeper(const HistoryKeeper&) = delete;
  HistoryKeeper& operator=(const HistoryKeeper&) = delete;

  /// A chorus that is over, and what the lights learn from it.
  void push(practice::ChorusRecord record, std::span<const ear::JudgedChange> changes);

  /// Everything so far, what could not be written included. Never null.
  std::shared_ptr<const practice::History> history() const;
  /// What the lights have learned. Never null.
  std::shared_ptr<const practice::Fading> fading() const;

  /// One line while something waits that could not be written, or where a damaged file was set
  /// aside; else empty.
  std::string notice() const;

  /// Until all that was pushed is written, or has failed once more. For tests.
  void settle();

private:
  using Lock = std::unique_lock<std::mutex>;

  void run();
  bool open();
  bool read_all();
  bool set_aside();
  bool write_all(Lock& lock);
  void add_up(Lock& lock);
  void failed(const std::string& reason);

  const std::filesystem::path file_;
  const std::chrono::milliseconds retry_;

  // The worker's.
  std::optional<HistoryStore> store_;
  std::vector<practice::ChorusRecord> records_; ///< Read and pushed, without their changes.
  bool loaded_ = false;

  mutable std::mutex mutex_; ///< For what follows.
  std::condition_variable changed_, settled_;
  std::vector<practice::ChorusRecord> fresh_;         ///< Pushed, and not in records_ yet.
  std::deque<practice::ChorusRecord> waiting_;        ///< To be written.
  std::vector<std::vector<ear::JudgedChange>> heard_; ///< Before the lights were read.
  std::shared_ptr<const practice::Fading> fading_;
  bool fading_waits_ = false;
  std::shared_ptr<const practice::History> history_;
  std::string notice_, aside_;
  bool stops_ = false;
  std::uint64_t pushes_ = 0, rounds_ = 0; ///< Rounds of the worker that knew of all pushes.
  std::thread thread_;
};

} // namespace landfall::app
