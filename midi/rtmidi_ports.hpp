#pragma once

#include "midi/control_mask.hpp"
#include "midi/input_event.hpp"
#include "midi/output.hpp"
#include "midi/ports.hpp"
#include "midi/queue.hpp"
#include "midi/sender.hpp"

#include <atomic>
#include <memory>
#include <string>
#include <string_view>

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

/// A port that we listen to. Its callback stamps each message on entry and pushes it into the
/// queue, and into a sender's thru lane if there is one; nothing else.
class RtMidiInput {
public:
  static constexpr std::size_t capacity = 4096;

  static std::unique_ptr<RtMidiInput> open(std::string_view name) noexcept;
  static std::unique_ptr<RtMidiInput> open_virtual(const std::string& name) noexcept;

  ~RtMidiInput();
  RtMidiInput(const RtMidiInput&) = delete;
  RtMidiInput& operator=(const RtMidiInput&) = delete;

  /// The next message; false when there is none. One thread; real-time safe.
  bool pop(StampedMessage& message) noexcept { return messages_.pop(message); }

  /// As pop, but the message stays.
  bool peek(StampedMessage& message) const noexcept { return messages_.peek(message); }

  /// Messages lost since the port was opened, because nobody popped. Any thread.
  std::uint64_t drops() const noexcept { return messages_.drops(); }

  /// What must not be passed on to a sender: controls that are bound. To be set by one thread.
  ControlMask& controls() noexcept { return controls_; }

  /// Passes everything else on to `lane` of `sender` too, until called with null. Waits until the
  /// callback has let go of the sender before. Not real-time.
  void set_thru(Sender* sender, std::size_t lane) noexcept;

  const PortInfo& port() const { return port_; }

private:
  using Device = RtMidiIn;
  explicit RtMidiInput(std::unique_ptr<RtMidiIn> device);
  template <typename Port, typename Open>
  friend std::unique_ptr<Port> open_first(Open open) noexcept;
  static void receive(double, std::vector<unsigned char>* bytes, void* self);
  void take(const StampedMessage& stamped) noexcept;

  PortInfo port_;
  ControlMask controls_;
  Queue<StampedMessage> messages_{capacity};
  std::atomic<Sender*> thru_{nullptr};
  std::atomic<std::size_t> lane_{0};
  std::atomic<bool> in_callback_{false};
  std::atomic<std::uint64_t> failures_{0};
  std::unique_ptr<RtMidiIn> device_;
};

} // namespace landfall::midi
