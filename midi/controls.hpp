#pragma once

#include "midi/control_binding.hpp"
#include "midi/input_event.hpp"

#include <array>
#include <deque>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace landfall::midi {

/// What a control asks for.
struct Asked {
  TimePoint time;
  std::string action;
  std::optional<double> value; ///< Of an absolute control: where it stands, 0 to 1.
  int steps = 0;               ///< Of a relative one: how far it was turned.

  bool operator==(const Asked&) const = default;
};

/// Tells presses, long and double presses, values and steps from the messages of bound controls. A
/// press is told at once where nothing longer is bound to the same control; else as soon as it can
/// be none of them. One thread; reads no clock.
class Controls {
public:
  explicit Controls(const ControlMap& map = {});

  /// Whether the message belongs to a bound control of `port`: then nothing else may use it.
  bool take(const StampedMessage& message, std::string_view port);

  /// The next thing asked for by `now`; to be asked until there is none.
  std::optional<Asked> next(TimePoint now);

  /// Forgets what is held down on an input, as when it was unplugged.
  void forget(std::uint8_t input);

private:
  /// All that is bound to one control.
  struct Group {
    std::string device;
    Control control;
    ControlWay way = ControlWay::momentary;
    std::array<std::string, 3> actions; ///< By Press; may be empty.

    const std::string& action(Press press) const {
      return actions[static_cast<std::size_t>(press)];
    }
    bool has(Press press) const { return !action(press).empty(); }
  };
  struct State {
    bool down = false;
    bool done = true;               ///< The present press has been told.
    std::optional<TimePoint> since; ///< Of the press that is not told yet.
    int value = -1;                 ///< The last one.
  };
  using Key = std::pair<std::uint8_t, std::size_t>; ///< Input and group.

  void move(const Group& group, State& state, const StampedMessage& message);
  void press(const Group& group, State& state, TimePoint time);
  void release(const Group& group, State& state, TimePoint time);
  void turn(const Group& group, State& state, const StampedMessage& message);
  void tell(const Group& group, State& state, Press press, TimePoint time);
  void wait(const Group& group, State& state, TimePoint now);

  PressTimes times_;
  std::vector<Group> groups_;
  std::map<Key, State> states_;
  std::deque<Asked> asked_;
};

} // namespace landfall::midi
