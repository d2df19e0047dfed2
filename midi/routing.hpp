#pragma once

#include "midi/latest.hpp"
#include "midi/message.hpp"
#include "midi/output.hpp"

#include <array>
#include <memory>

namespace landfall::midi {

/// Where an output sends what is meant for one of our channels, and with which sound.
struct Route {
  static constexpr int as_planned = -1; ///< The sound that the plan asks for.
  static constexpr int untouched = -2;  ///< None: the receiver's own.

  bool sends = true;
  std::int8_t channel = 0;           ///< 0 to 15.
  std::int8_t transpose = 0;         ///< Half steps.
  std::int16_t bank = -1;            ///< 0 to 16383, sent before a program; -1: none is sent.
  std::int16_t program = as_planned; ///< 0 to 127, or one of the above.

  constexpr bool operator==(const Route&) const = default;
};

/// One for each of our channels.
struct Routing {
  std::array<Route, channel_count> routes;

  bool operator==(const Routing&) const = default;
};

/// Every channel as itself.
Routing straight_routing();

/// An output behind which each channel goes its own way. A note ends where it began, whatever the
/// routing is by then; of two that became the same note, the
/// second strikes it anew and the last to end ends it. Panic (all sound
/// off, all notes off) goes to the old place and the new one.
class RoutedOutput final : public Output {
public:
  /// `routing` must outlive the output (for ever, if its sender may be abandoned).
  RoutedOutput(std::unique_ptr<Output> output, const Latest<Routing>& routing);

  void send(std::span<const std::uint8_t> bytes, TimePoint deadline) noexcept override;
  std::uint64_t failures() const noexcept override { return output_->failures(); }

private:
  struct Place {
    std::int8_t channel = -1; ///< -1: nowhere.
    std::int8_t note = 0;
  };

  void take_routing(TimePoint deadline) noexcept;
  void begin_note(const ShortMessage& on, const Route& route, TimePoint deadline) noexcept;
  void end_note(int channel, int note, int velocity, TimePoint deadline) noexcept;
  void choose_sound(const ShortMessage& program, const Route& route, TimePoint deadline) noexcept;
  void leave(int channel, const Route& route, TimePoint deadline) noexcept;
  void pass(const ShortMessage& message, TimePoint deadline) noexcept;

  std::unique_ptr<Output> output_;
  const Latest<Routing>& link_;
  Routing routing_;
  std::uint64_t version_ = 0;
  std::array<std::array<Place, note_count>, channel_count> places_{};
  std::array<std::array<std::uint8_t, note_count>, channel_count> sounding_{};
};

} // namespace landfall::midi
