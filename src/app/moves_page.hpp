#pragma once

#include "app/page.hpp"
#include "app/text_field.hpp"
#include "practice/choice.hpp"
#include "song/meter.hpp"

#include <array>
#include <functional>

namespace landfall::app {

/// Typed: the keys that the song goes through, and a tempo that goes from one to another.
class MovesPage final : public Page {
public:
  struct Calls {
    std::function<void(const practice::Command&)> apply;
    std::function<void(const std::string& words)> say;
  };

  MovesPage(const practice::Choice& choice, song::Meter meter,
            std::shared_ptr<const neck::Instrument> instrument, Calls calls);

  void show(FrameInput& input) override;
  bool press(const render::KeyPress& press) override;
  void type(std::string_view text) override { fields_[focus_].insert(text); }
  void click(const render::Hit& hit, render::MouseButton button) override;

private:
  enum Field : std::uint8_t { keys, key_choruses, tempo_from, tempo_to, tempo_choruses };

  void apply();
  /// Empty fields ask for nothing.
  std::optional<practice::KeyMoves> key_moves(std::string& problem) const;
  std::optional<practice::TempoMoves> tempo_moves(std::string& problem) const;

  std::array<TextField, 5> fields_;
  std::size_t focus_ = keys;
  song::Meter meter_;
  std::shared_ptr<const neck::Instrument> instrument_;
  Calls calls_;
};

} // namespace landfall::app
