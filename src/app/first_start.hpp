#pragma once

#include "app/lists.hpp"
#include "app/page.hpp"

namespace landfall::app {

/// The questions of the first start, one after the other, beside the song that plays: the
/// instrument, its input, its own sound, the output, how late it is heard, and hands and ears.
/// Whatever has no meaning without an input is left out. The answers are values of the other pages,
/// and `test-sound`.
class FirstStart final : public Page {
public:
  /// How things stand, asked for at each look.
  struct State {
    Settings settings;
    midi::PortLists ports;
    bool has_input = false;
    std::string latency; ///< `12 ms`; empty before it is measured.
  };
  struct Links {
    std::function<State()> state;
    std::function<void(const std::string& value)> choose;
    std::function<void()> done; ///< Answered or skipped.
  };

  explicit FirstStart(Links links);

  void show(FrameInput& input) override;
  bool press(const render::KeyPress& press) override;
  void click(const render::Hit& hit, render::MouseButton button) override;
  void scroll(int steps) override { list_.move(-steps); }
  void let_go() override;

  /// Whether a note of any input tells which one it is.
  bool asks_for_input() const { return step_ == Step::input; }
  /// A note came in from a port: it is marked, and takes the focus.
  void heard(const std::string& port);

private:
  enum class Step : std::uint8_t { instrument, input, own_sound, output, latency, care };

  std::vector<Step> steps() const;
  void ask();
  void instruments();
  void inputs();
  void own_sound();
  void outputs();
  void latency();
  void care();
  void add(std::string text, std::string detail, std::string value, bool chosen = false);
  void end_rows();
  void answer();
  void go(int steps);
  void focus(const std::string& value);

  Links links_;
  const std::vector<ChoiceList::Item> instruments_; ///< Read once.
  State state_;
  Step step_ = Step::instrument;
  std::string heard_; ///< The port that was heard last.
  ChoiceList list_;
};

} // namespace landfall::app
