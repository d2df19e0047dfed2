#pragma once

#include "app/input_rate.hpp"
#include "app/page.hpp"
#include "midi/clock_follower.hpp"
#include "midi/sender.hpp"

#include <functional>
#include <optional>

namespace landfall::app {

/// What is known of how the rig keeps time.
struct RigReading {
  midi::SenderReport sent;
  midi::ClockReading clock;
  bool follows_clock = false;
  bool sends_clock = false;
  std::string ports; ///< As in the top line.
  bool low_latency = false;
  std::optional<std::uint64_t> xruns; ///< Of the built-in synth; none where it does not play.
  InputRate::Reading input;
  std::uint64_t input_drops = 0;
  midi::LatenessSummary frames; ///< Work of a frame; late by so much that it took.
  midi::HistogramCounts frame_histogram{};
  std::string painter;
};

/// The reading as the window shows it.
render::RigPage rig_page(const RigReading& reading);

/// Microseconds as milliseconds, without the unit: `0.05`, `4.2`, `23`.
std::string milliseconds_words(double microseconds);

/// The page of it, looked at anew four times a second.
class RigView final : public Page {
public:
  explicit RigView(std::function<RigReading()> read) : read_(std::move(read)) {}

  void show(FrameInput& input) override;
  bool moving() const override { return Clock::now() >= due_; }

private:
  std::function<RigReading()> read_;
  render::RigPage page_;
  TimePoint due_;
};

} // namespace landfall::app
