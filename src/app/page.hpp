#pragma once

#include "app/frame_builder.hpp"
#include "midi/input_event.hpp"
#include "render/hit.hpp"
#include "render/input.hpp"

#include <string_view>

namespace landfall::app {

/// A page over the picture, or beside it. It sees what the player does before the room's actions
/// do; the band goes on. Window's thread only.
class Page {
public:
  Page() = default;
  virtual ~Page() = default;
  Page(const Page&) = delete;
  Page& operator=(const Page&) = delete;

  /// Puts itself into the frame that is about to be built: `input.page`, and whatever else it
  /// shows in another way. Called for the top page only, for each frame.
  virtual void show(FrameInput& input) = 0;

  /// A key went down; false leaves it to the action table. `Escape` closes a page that does not
  /// take it.
  virtual bool press(const render::KeyPress& press);
  /// Text of an input method or a paste.
  virtual void type(std::string_view text);
  /// The left button does what Return does to a row; any other only gives it the focus.
  virtual void click(const render::Hit& hit, render::MouseButton button);
  /// The mouse moved with its button down, over `frame`'s picture; then let go.
  virtual void drag(const render::Frame& frame, render::Size size, render::Point at);
  virtual void release();
  /// The wheel, positive away from the player.
  virtual void scroll(int steps);
  /// What an instrument says; true keeps it from the board and the ear.
  virtual bool hear(const midi::InputEvent& event);
  /// Whether the picture moves although the band is stopped.
  virtual bool moving() const;

  /// The player is done with it. May keep what was typed.
  virtual void let_go() { close(); }

  /// Whether it is done with: the room forgets it after the present input.
  bool closed() const { return closed_; }

protected:
  void close() { closed_ = true; }

private:
  bool closed_ = false;
};

} // namespace landfall::app
