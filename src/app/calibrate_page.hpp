#pragma once

#include "app/clicker.hpp"
#include "app/lists.hpp"
#include "app/page.hpp"
#include "ear/calibration.hpp"
#include "midi/input_mode.hpp"

#include <functional>
#include <memory>
#include <optional>

namespace landfall::app {

/// The setup with what an attempt found. On one string alone, an attempt tells that string's own
/// lateness if the input's is known already.
midi::InputSetup calibrated(midi::InputSetup setup, const ear::Calibration& found);

/// Four clicks to find the beat, and eight to play along with: how late the player's input is.
class CalibratePage final : public Page {
public:
  struct Links {
    std::function<void(bool strong)> click;            ///< Any thread.
    std::function<void(const ear::Calibration&)> keep; ///< The player accepts it.
    std::string port;                                  ///< Whose latency it is.
    std::function<TimePoint()> now = [] { return Clock::now(); };
  };

  explicit CalibratePage(Links links);

  void show(FrameInput& input) override;
  bool press(const render::KeyPress& press) override;
  void click(const render::Hit& hit, render::MouseButton button) override;
  void scroll(int steps) override { list_.move(-steps); }
  bool hear(const midi::InputEvent& event) override;
  bool moving() const override { return clicker_ != nullptr; }

private:
  void begin();
  void finish();
  void choose();
  std::vector<std::string> lines() const;
  /// How many clicks there have been; 0 before the first.
  int clicks_so_far() const;

  Links links_;
  ChoiceList list_;
  TimePoint first_; ///< Of the four that lead in.
  std::vector<ear::Tap> taps_;
  std::optional<Result<ear::Calibration, std::string>> result_;
  std::unique_ptr<Clicker> clicker_; ///< While an attempt goes on.
};

} // namespace landfall::app
