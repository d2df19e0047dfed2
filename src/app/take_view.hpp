#pragma once

#include "app/actions.hpp"
#include "app/conductor.hpp"
#include "app/page.hpp"
#include "app/take_picture.hpp"

namespace landfall::app {

/// A take that is open in the window: to be scrubbed through with everything as it was, played
/// back, slowed down and looped. The conductor must be stopped when it opens.
class TakeView final : public Page {
public:
  TakeView(std::unique_ptr<TakePicture> picture, std::vector<midi::PlannedMessage> messages,
           Conductor& conductor);

  void show(FrameInput& input) override;
  bool press(const render::KeyPress& press) override;
  void click(const render::Hit& hit, render::MouseButton button) override;
  void drag(const render::Frame& frame, render::Size size, render::Point at) override;
  void release() override;
  void scroll(int steps) override { move_bars(-steps); }
  bool hear(const midi::InputEvent&) override { return false; }
  bool moving() const override { return playing_; }
  void let_go() override;

  /// What the player asks for by a key or a control; true if it means something here.
  bool perform(Action action);

private:
  Ticks present() const;
  void play();
  void pause();
  void go(Ticks place);
  void move_bars(int bars);
  void mark(bool first);
  void slower();
  void keep_passage();
  double part(Ticks at) const;
  render::Reel reel() const;
  std::pair<Ticks, Ticks> bar_here() const;
  std::string words() const;

  std::unique_ptr<TakePicture> picture_;
  std::vector<midi::PlannedMessage> messages_;
  Conductor& conductor_;
  std::shared_ptr<const practice::Timeline> timeline_;
  Ticks place_;
  std::optional<std::pair<Ticks, Ticks>> loop_;
  std::size_t speed_ = 0;
  std::string said_; ///< In place of the usual words, until something else is done.
  bool playing_ = false;
  bool scrubs_ = false, plays_on_ = false; ///< By the mouse; and plays when it lets go.
  render::Reel laid_out_;                  ///< Choruses and marks, which stay.
};

} // namespace landfall::app
