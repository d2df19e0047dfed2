#pragma once

#include "app/history_keeper.hpp"
#include "app/page.hpp"

namespace landfall::app {

/// A history as the window shows it. `today` is the player's own day.
render::HistoryPage history_page(const practice::History& history, std::chrono::sys_days today);

/// The page of the history; it follows what is played meanwhile.
class HistoryView final : public Page {
public:
  /// The keeper must outlive it.
  explicit HistoryView(const HistoryKeeper& keeper) : keeper_(keeper) {}

  void show(FrameInput& input) override;

private:
  const HistoryKeeper& keeper_;
  std::shared_ptr<const practice::History> shown_;
  render::HistoryPage page_;
};

} // namespace landfall::app
