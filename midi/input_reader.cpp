#include "midi/input_reader.hpp"

#include <algorithm>

namespace landfall::midi {
namespace {

constexpr int pedal_threshold = 64;

std::uint8_t channel_byte(int channel) {
  return static_cast<std::uint8_t>(channel & 0x0F);
}

int fourteen_bits(const ShortMessage& message) {
  return message.bytes[1] | (message.bytes[2] << 7);
}

bool is_mpe(InputMode mode) {
  return mode == InputMode::mpe_lower || mode == InputMode::mpe_upper;
}

constexpr int most_members = 15;

} // namespace

InputReader::InputReader(const InputSetup& setup) : setup_(setup) {
  auto& [lower, upper] = zones_;
  upper = {channel_count - 1, channel_count - 2, -1, 0};
  if (setup.mode == InputMode::per_string)
    lower = {(setup.base_channel - 1) & 0x0F, setup.base_channel, 1,
             std::clamp(setup.strings, 1, most_members)};
  if (setup.mode == InputMode::mpe_lower)
    lower.members = most_members;
  if (setup.mode == InputMode::mpe_upper)
    upper.members = most_members;
  if (setup.mode == InputMode::one_channel)
    for (auto& channel : channels_)
      channel.semitones = setup.bend_semitones.value_or(plain_bend_semitones);
  for (const auto& zone : zones_)
    reset_ranges(zone);
}

bool InputReader::Zone::has(int channel) const {
  return ((channel - first) * step & 0x0F) < members;
}

InputReader::Channel& InputReader::at(int channel) noexcept {
  return channels_[channel_byte(channel)];
}

const InputReader::Channel& InputReader::at(int channel) const noexcept {
  return channels_[channel_byte(channel)];
}

const InputReader::Zone* InputReader::zone_managed_by(int channel) const noexcept {
  for (const auto& zone : zones_)
    if (zone.members > 0 && zone.manager == channel)
      return &zone;
  return nullptr;
}

const InputReader::Zone* InputReader::zone_with(int channel) const noexcept {
  for (const auto& zone : zones_)
    if (zone.has(channel))
      return &zone;
  return nullptr;
}

template <typename Act> void InputReader::for_reach_of(int channel, Act act) noexcept {
  act(channel);
  const auto* zone = zone_managed_by(channel);
  for (int i = 0; zone != nullptr && i < zone->members; ++i)
    act((zone->first + i * zone->step) & 0x0F);
}

double InputReader::bend_range_cents(int channel) const {
  return at(channel).semitones * 100.0 + at(channel).cents;
}

double InputReader::cents_of(int channel) const noexcept {
  const auto own = at(channel).bend / 8192.0 * bend_range_cents(channel);
  const auto* zone = zone_with(channel);
  if (zone == nullptr || zone->manager == channel)
    return own;
  return own + at(zone->manager).bend / 8192.0 * bend_range_cents(zone->manager);
}

void InputReader::emit(const InputEvent& event) noexcept {
  if (event_count_ < events_.size())
    events_[event_count_++] = event;
}

std::span<const InputEvent> InputReader::read(const StampedMessage& stamped) noexcept {
  event_count_ = 0;
  const auto& [time, message, input] = stamped;
  if (!is_valid(message))
    return {};
  const auto channel = channel_byte(channel_of(message));
  switch (status_of(message)) {
  case Status::note_off:
    end_note(time, {channel, message.bytes[1]}, message.bytes[2]);
    break;
  case Status::note_on:
    if (is_note_on(message))
      start_note(stamped);
    else
      end_note(time, {channel, message.bytes[1]}, 0);
    break;
  case Status::poly_pressure:
    emit(PressureEvent{time, channel, message.bytes[1], message.bytes[2]});
    break;
  case Status::control:
    control(stamped);
    break;
  case Status::program:
    emit(ProgramEvent{time, channel, message.bytes[1]});
    break;
  case Status::channel_pressure:
    emit(PressureEvent{time, channel, std::nullopt, message.bytes[1]});
    break;
  case Status::bend:
    bend(stamped);
    break;
  case Status::system:
    system(stamped);
    break;
  }
  return {events_.data(), event_count_};
}

/// A string sounds one note: a new one, as in a hammer-on or a slide, ends the one before, whether
/// or not its note-off comes later. A note struck again without an end begins anew.
void InputReader::start_note(const StampedMessage& stamped) noexcept {
  const Sounding note{channel_byte(channel_of(stamped.message)), stamped.message.bytes[1]};
  const auto string = string_of(setup_, note.channel);
  if (string)
    end_notes(stamped.time, note.channel);
  const auto* end = sounding_.data() + sounding_count_;
  if (std::find(static_cast<const Sounding*>(sounding_.data()), end, note) != end)
    end_note(stamped.time, note, 0);
  if (sounding_count_ == sounding_.size())
    end_note(stamped.time, sounding_.front(), 0);
  sounding_[sounding_count_++] = note;
  emit(NoteEvent{stamped.time, note.channel, note.note, stamped.message.bytes[2], true, string});
}

void InputReader::end_note(TimePoint time, Sounding note, std::uint8_t velocity) noexcept {
  const auto end = sounding_.begin() + static_cast<std::ptrdiff_t>(sounding_count_);
  if (const auto found = std::find(sounding_.begin(), end, note); found != end) {
    std::move(found + 1, end, found);
    --sounding_count_;
  }
  emit(NoteEvent{time, note.channel, note.note, velocity, false, string_of(setup_, note.channel)});
}

void InputReader::end_notes(TimePoint time, int channel) noexcept {
  for (std::size_t i = sounding_count_; i-- > 0;)
    if (const auto note = sounding_[i]; note.channel == channel)
      end_note(time, note, 0);
}

void InputReader::bend(const StampedMessage& stamped) noexcept {
  const int channel = channel_of(stamped.message);
  at(channel).bend = fourteen_bits(stamped.message) - 8192;
  for_reach_of(channel, [&](int reached) {
    emit(BendEvent{stamped.time, channel_byte(reached), cents_of(reached)});
  });
}

void InputReader::control(const StampedMessage& stamped) noexcept {
  const auto time = stamped.time;
  const auto& message = stamped.message;
  const int number = message.bytes[1], value = message.bytes[2], channel = channel_of(message);
  auto& own = at(channel);
  if (number == controller::sustain)
    return pedal(time, channel, value >= pedal_threshold);
  if (number == controller::rpn)
    own.parameter = (own.parameter & 0x7F) | (value << 7);
  else if (number == controller::rpn_fine)
    own.parameter = (own.parameter & 0x3F80) | value;
  else if (number == controller::nrpn || number == controller::nrpn_fine)
    own.parameter = no_parameter;
  else if (number == controller::data_entry || number == controller::data_entry_fine)
    enter_data(stamped, own);
  else if (number == controller::reset_all)
    reset_controllers(time, channel);
  else if (number == controller::all_sound_off || number >= controller::all_notes_off)
    for_reach_of(channel, [&](int reached) { end_notes(time, reached); });
  emit(ControlEvent{time, channel_byte(channel), message.bytes[1], message.bytes[2]});
}

void InputReader::enter_data(const StampedMessage& stamped, Channel& own) noexcept {
  const auto& message = stamped.message;
  const bool fine = message.bytes[1] == controller::data_entry_fine;
  if (own.parameter == bend_range_parameter)
    set_range(channel_of(message), fine ? &Channel::cents : &Channel::semitones, message.bytes[2]);
  else if (own.parameter == mpe_configuration && !fine && is_mpe(setup_.mode))
    configure_zone(stamped.time, channel_of(message), message.bytes[2]);
}

/// In MPE the range of one member is that of all (MPE 1.0, 2.4). What the player says holds.
void InputReader::set_range(int channel, int Channel::*part, int value) noexcept {
  const auto* zone = is_mpe(setup_.mode) ? zone_with(channel) : nullptr;
  const bool manages = zone_managed_by(channel) != nullptr;
  if (setup_.bend_semitones && !manages)
    return;
  at(channel).*part = value;
  for (int i = 0; zone != nullptr && i < zone->members; ++i)
    at(zone->first + i * zone->step).*part = value;
}

/// MPE 1.0, 2.1: the newer zone takes what it needs of the older, ranges are the usual again, and
/// all notes end.
void InputReader::configure_zone(TimePoint time, int manager, int members) noexcept {
  if ((manager != 0 && manager != channel_count - 1) || members > most_members)
    return;
  for (int channel = 0; channel < channel_count; ++channel)
    end_notes(time, channel);
  auto& zone = zones_[manager == 0 ? 0 : 1];
  auto& other = zones_[manager == 0 ? 1 : 0];
  zone.members = members;
  other.members = std::min(other.members, std::max(0, most_members - 1 - members));
  reset_ranges(zone);
}

void InputReader::reset_ranges(const Zone& zone) noexcept {
  if (zone.members == 0)
    return;
  const int semitones = setup_.bend_semitones.value_or(usual_bend_semitones(setup_.mode));
  at(zone.manager).semitones = plain_bend_semitones;
  at(zone.manager).cents = 0;
  for (int i = 0; i < zone.members; ++i) {
    at(zone.first + i * zone.step).semitones = semitones;
    at(zone.first + i * zone.step).cents = 0;
  }
}

void InputReader::pedal(TimePoint time, int channel, bool down) noexcept {
  if (at(channel).pedal == down)
    return;
  at(channel).pedal = down;
  for_reach_of(channel, [&](int reached) { emit(PedalEvent{time, channel_byte(reached), down}); });
}

void InputReader::reset_controllers(TimePoint time, int channel) noexcept {
  pedal(time, channel, false);
  at(channel).bend = 0;
  at(channel).parameter = no_parameter;
  for_reach_of(channel, [&](int reached) {
    emit(BendEvent{time, channel_byte(reached), cents_of(reached)});
  });
}

void InputReader::system(const StampedMessage& stamped) noexcept {
  const auto status = stamped.message.bytes[0];
  if (status == 0xF2)
    emit(SystemEvent{stamped.time, status, fourteen_bits(stamped.message)});
  else if (status == 0xF8 || (status >= 0xFA && status <= 0xFC))
    emit(SystemEvent{stamped.time, status, 0});
}

} // namespace landfall::midi
