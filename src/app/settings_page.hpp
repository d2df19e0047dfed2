#pragma once

#include "app/pages.hpp"
#include "neck/instrument.hpp"

namespace landfall::app {

/// How things stand that the page of settings names and the settings do not know.
struct SettingsState {
  std::string ports;   ///< As the status line has it.
  std::string latency; ///< `12 ms`, `not measured yet`; empty without an input.
  bool full_screen = false;
};

/// Everything that is remembered, with its present value, beside the playing picture. Values are
/// `do:ACTION` for actions of the table, `tuning`, `capo:UP` (1 or -1), `own-sound`, `through`,
/// `latency:NAME`, `first-questions`.
ChoiceList settings_list(const Settings& settings, const neck::Instrument& instrument,
                         const SettingsState& state);

/// settings_list(), as things stand at each look.
class SettingsView final : public Page {
public:
  using List = std::function<ChoiceList()>;

  SettingsView(List list, ListView::Chosen chosen)
      : make_(std::move(list)), view_(make_(), std::move(chosen)) {}

  void show(FrameInput& input) override;
  bool press(const render::KeyPress& press) override { return view_.press(press); }
  void click(const render::Hit& hit, render::MouseButton button) override {
    view_.click(hit, button);
  }
  void scroll(int steps) override { view_.scroll(steps); }

private:
  List make_;
  ListView view_;
};

} // namespace landfall::app
