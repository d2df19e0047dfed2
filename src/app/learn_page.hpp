#pragma once

#include "app/control_files.hpp"
#include "app/lists.hpp"
#include "app/page.hpp"
#include "midi/control_learner.hpp"

#include <functional>
#include <optional>

namespace landfall::app {

/// Every action and what it is bound to; to bind one, it is chosen and a control is moved. While it
/// listens, no message means anything else.
class LearnPage final : public Page {
public:
  struct Links {
    std::function<void(const midi::ControlMap&)> changed; ///< To be kept and to hold from now on.
    std::function<void(const std::string&)> say;
    std::function<std::string(std::uint8_t input)> port; ///< The name of an input's port.
    std::function<bool(std::uint8_t input)> plays;       ///< Whether notes are played on it.
  };

  LearnPage(midi::ControlMap map, Links links);

  void show(FrameInput& input) override;
  bool press(const render::KeyPress& press) override;
  void type(std::string_view text) override;
  void click(const render::Hit& hit, render::MouseButton button) override;
  void scroll(int steps) override;
  bool moving() const override { return learner_.has_value(); }

  /// A message of an input; true if it was taken for the control that is asked for.
  bool learn(const midi::StampedMessage& message);
  /// To be called often: some controls are known only after a while.
  void advance(TimePoint now);

private:
  void fill();
  void choose();
  void listen(const midi::ControlAction& action);
  void bind(const midi::Learned& learned);
  void remove();
  void use_profile(const std::string& title);
  void set(const midi::ControlMap& map);
  std::string bound_words(const std::string& action) const;
  std::string state_line() const;

  midi::ControlMap map_;
  Links links_;
  std::vector<ControlProfile> profiles_;
  ChoiceList list_;
  midi::Press press_ = midi::Press::once;
  std::optional<midi::ControlAction> action_; ///< What is being learned.
  std::optional<midi::ControlLearner> learner_;
};

} // namespace landfall::app
