#pragma once

#include "app/lists.hpp"
#include "app/page.hpp"

#include <functional>

namespace landfall::app {

/// Rows to choose from. Stays open until the one who is told of a choice closes it.
class ListView final : public Page {
public:
  using Chosen = std::function<void(const std::string& value)>;

  ListView(ChoiceList shown, Chosen chosen) : list(std::move(shown)), chosen_(std::move(chosen)) {}

  void show(FrameInput& input) override { input.page = list.page(); }
  bool press(const render::KeyPress& press) override;
  void type(std::string_view text) override;
  void click(const render::Hit& hit, render::MouseButton button) override;
  void scroll(int steps) override { list.move(-steps); }

  ChoiceList list;

private:
  bool step(bool back);
  void choose();

  Chosen chosen_;
};

/// Every action with its keys.
class HelpView final : public Page {
public:
  /// `most` says how many rows it can be scrolled by.
  explicit HelpView(std::function<int()> most) : most_(std::move(most)) {}

  void show(FrameInput& input) override;
  bool press(const render::KeyPress& press) override;
  /// Makes way for the key that is clicked.
  void click(const render::Hit& hit, render::MouseButton button) override;
  void scroll(int steps) override;

private:
  std::function<int()> most_;
  int scroll_ = 0;
};

} // namespace landfall::app
