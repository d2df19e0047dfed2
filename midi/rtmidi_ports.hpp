#pragma once

#include "midi/input_intake.hpp"
#include "midi/output.hpp"
#include "midi/ports.hpp"

#include <atomic>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

class RtMidiIn;
class RtMidiOut;

/// Open ports. Opening and destroying may block for seconds: on the device worker only. Nothing
/// throws.
namespace landfall::midi {

/// A port of the system, or one of our own, that a sender plays to.
class RtMidiOutput final : public Output {
public:
  /// The output port meant by `name` (see find_port), from a list made just now; null if there is
  /// none or it can't be opened.
  static std::unique_ptr<RtMidiOutput> open(std::string_view name) noexcept;

  /// A port of our own, to which others connect; null where the system has no such thing.
  static std::unique_ptr<RtMidiOutput> open_virtual(const std::string& name) noexcept;

  /// Leaves the system the time to pass on what was sent last.
  ~RtMidiOutput() override;

  void send(std::span<const std::uint8_t> bytes, TimePoint deadline) noexcept override;
  std::uint64_t failures() const noexcept override { return failures_; }
  const PortInfo& port() const { return port_; }

private:
  using Device = RtMidiOut;
  explicit RtMidiOutput(std::unique_ptr<RtMidiOut> device);
  template <typename Port, typename Open>
  friend std::unique_ptr<Port> open_first(Open open) noexcept;

  PortInfo port_;
  std::atomic<std::uint64_t> failures_{0};
  std::unique_ptr<RtMidiOut> device_;
};

/// A port that we listen to: its callback hands each message to an intake.
class RtMidiInput {
public:
  static std::unique_ptr<RtMidiInput> open(std::string_view name) noexcept;
  static std::unique_ptr<RtMidiInput> open_virtual(const std::string& name) noexcept;

  ~RtMidiInput();
  RtMidiInput(const RtMidiInput&) = delete;
  RtMidiInput& operator=(const RtMidiInput&) = delete;

  // As those of InputIntake.
  bool pop(StampedMessage& message) noexcept { return intake_.pop(message); }
  bool peek(StampedMessage& message) const noexcept { return intake_.peek(message); }
  std::uint64_t drops() const noexcept { return intake_.drops(); }
  ControlMask& controls() noexcept { return intake_.controls(); }
  ActiveSensing& sensing() noexcept { return intake_.sensing(); }
  void set_thru(Sender* sender, std::size_t lane) noexcept { intake_.set_thru(sender, lane); }
  void set_clock(ClockLink* link) noexcept { intake_.set_clock(link); }

  /// Goes back to listening where the end of a system exclusive message has not come for
  /// `exclusive_limit`: true where that was so, and messages may have been missed. To be asked
  /// several times in that span, by one thread.
  bool end_broken_exclusive(TimePoint now) noexcept;
  static constexpr Nanoseconds exclusive_limit{300'000'000};

  const PortInfo& port() const { return port_; }

private:
  using Device = RtMidiIn;
  explicit RtMidiInput(std::unique_ptr<RtMidiIn> device);
  template <typename Port, typename Open>
  friend std::unique_ptr<Port> open_first(Open open) noexcept;
  static void receive(double, std::vector<unsigned char>* bytes, void* self);

  PortInfo port_;
  InputIntake intake_;
  std::atomic<std::uint64_t> failures_{0};
  std::optional<TimePoint> exclusive_since_; ///< Seen then, and at every look after it.
  std::unique_ptr<RtMidiIn> device_;
};

} // namespace landfall::midi
