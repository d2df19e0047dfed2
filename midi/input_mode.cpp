#include "midi/input_mode.hpp"

#include <bit>
#include <cstddef>
#include <utility>

namespace landfall::midi {
namespace {

struct ModeRow {
  InputMode mode;
  std::string_view name, option;
  int bend_semitones;
};

constexpr std::array modes{
    ModeRow{InputMode::one_channel, "one channel", "one", plain_bend_semitones},
    ModeRow{InputMode::per_string, "one channel per string", "strings", per_string_bend_semitones},
    ModeRow{InputMode::mpe_lower, "MPE lower zone", "mpe", mpe_bend_semitones},
    ModeRow{InputMode::mpe_upper, "MPE upper zone", "mpe-upper", mpe_bend_semitones},
};

const ModeRow& row_of(InputMode mode) {
  return modes[static_cast<std::size_t>(mode)];
}

/// The longest run of neighbouring bits: where it starts, and how long it is.
std::pair<int, int> longest_run(std::uint16_t bits) {
  std::pair<int, int> best{0, 0};
  for (int at = 0; at < channel_count;) {
    const int length = std::countr_one(static_cast<std::uint16_t>(bits >> at));
    if (length > best.second)
      best = {at, length};
    at += length + 1;
  }
  return best;
}

bool is_mpe(InputMode mode) {
  return mode == InputMode::mpe_lower || mode == InputMode::mpe_upper;
}

constexpr int fewest_strings = 6;
constexpr int most_by_detection = 8; ///< A longer row is an MPE instrument going round.

} // namespace

std::string_view mode_name(InputMode mode) {
  return row_of(mode).name;
}

std::optional<InputMode> mode_of(std::string_view name) {
  for (const auto& row : modes)
    if (name == row.name || name == row.option)
      return row.mode;
  return std::nullopt;
}

int usual_bend_semitones(InputMode mode) {
  return row_of(mode).bend_semitones;
}

std::optional<int> string_of(const InputSetup& setup, int channel) {
  if (setup.mode != InputMode::per_string)
    return std::nullopt;
  const int string = ((channel - setup.base_channel) & 0x0F) + 1;
  return string <= setup.strings ? std::optional(string) : std::nullopt;
}

Nanoseconds latency_of(const InputSetup& setup, int channel) {
  if (!setup.latency)
    return {};
  const auto string = string_of(setup, channel);
  if (!string || static_cast<std::size_t>(*string) > setup.string_latency.size())
    return *setup.latency;
  return *setup.latency + setup.string_latency[static_cast<std::size_t>(*string - 1)];
}

GhostFilter ghost_filter_of(const InputSetup& setup) {
  return setup.mode == InputMode::per_string ? GhostFilter{} : GhostFilter{Nanoseconds{}, 0};
}

void ModeDetector::hear(const ShortMessage& message) noexcept {
  if (!is_valid(message))
    return;
  const int channel = channel_of(message);
  if (is_note_on(message))
    noted_ = static_cast<std::uint16_t>(noted_ | (1U << static_cast<unsigned>(channel)));
  const bool manager = channel == 0 || channel == channel_count - 1;
  if (!manager || status_of(message) != Status::control)
    return;
  auto& parameter = parameter_[channel == 0 ? 0 : 1];
  const int number = message.bytes[1], value = message.bytes[2];
  if (number == controller::rpn)
    parameter = (parameter & 0x7F) | (value << 7);
  else if (number == controller::rpn_fine)
    parameter = (parameter & 0x3F80) | value;
  else if (number == controller::data_entry && parameter == mpe_configuration && value > 0)
    told_ = channel == 0 ? InputMode::mpe_lower : InputMode::mpe_upper;
}

std::optional<InputSetup> ModeDetector::proposal(const InputSetup& present) const {
  InputSetup proposed;
  const auto [first, length] = longest_run(noted_);
  if (told_) {
    proposed.mode = *told_;
  } else if (is_mpe(present.mode) || length < fewest_strings) {
    return std::nullopt; // an MPE instrument goes through its channels
  } else if (length > most_by_detection) {
    proposed.mode = (noted_ & 0x8000U) != 0 ? InputMode::mpe_upper : InputMode::mpe_lower;
  } else {
    proposed.mode = InputMode::per_string;
    proposed.base_channel = first;
    proposed.strings = length;
  }
  const bool covered = proposed.mode != InputMode::per_string ||
                       (string_of(present, first) && string_of(present, first + length - 1));
  return present.mode == proposed.mode && covered ? std::nullopt : std::optional(proposed);
}

} // namespace landfall::midi
