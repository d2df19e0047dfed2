#pragma once

#include "app/page.hpp"
#include "app/quick_chart.hpp"

#include <functional>
#include <set>

namespace landfall::app {

/// The page on which a tune is typed or played in, under the lane, while the band goes on.
class ChartPage final : public Page {
public:
  struct Calls {
    std::function<void(const song::Song&)> hear;
    /// Saves a song's text under its title; `over` writes over one of that name. Returns whether
    /// it was saved.
    std::function<bool(const std::string& text, const std::string& title, bool over)> save;
    std::function<void(const std::string& draft)> keep;
    std::function<void(const std::string& words)> say;
  };

  ChartPage(QuickChart chart, Calls calls) : chart_(std::move(chart)), calls_(std::move(calls)) {}

  void show(FrameInput& input) override;
  bool press(const render::KeyPress& press) override;
  void type(std::string_view text) override;
  void click(const render::Hit& hit, render::MouseButton button) override;
  void scroll(int steps) override;
  bool hear(const midi::InputEvent& event) override;
  /// Until the draft is kept, so that it is kept though nothing else happens.
  bool moving() const override { return chart_.draft_text() != kept_; }
  void let_go() override;

  const QuickChart& chart() const { return chart_; }

private:
  bool press_command(const render::KeyPress& press);
  void hear_it();
  void save();

  QuickChart chart_;
  Calls calls_;
  std::set<int> held_;
  std::vector<theory::MidiNote> struck_; ///< Of the chord that is being played.
  std::string kept_;                     ///< The draft as it was kept last.
  TimePoint keep_due_;
  std::string asked_over_; ///< The title that is there already.
};

} // namespace landfall::app
