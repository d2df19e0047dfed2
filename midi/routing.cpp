#include "midi/routing.hpp"

#include "midi/message.hpp"

#include <algorithm>

namespace landfall::midi {
namespace {

std::size_t index(int value) {
  return static_cast<std::size_t>(value);
}

bool is_panic(const ShortMessage& m) {
  return status_of(m) == Status::control &&
         (m.bytes[1] == controller::all_sound_off || m.bytes[1] == controller::all_notes_off);
}

} // namespace

Routing straight_routing() {
  Routing routing;
  for (int channel = 0; channel < channel_count; ++channel)
    routing.routes[index(channel)].channel = static_cast<std::int8_t>(channel);
  return routing;
}

RoutedOutput::RoutedOutput(std::unique_ptr<Output> output, const Latest<Routing>& routing)
    : output_(std::move(output)), link_(routing), routing_(routing.read(version_)) {}

void RoutedOutput::send(std::span<const std::uint8_t> bytes, TimePoint deadline) noexcept {
  take_routing(deadline);
  ShortMessage message;
  if (bytes.empty() || bytes.size() > message.bytes.size() || bytes[0] >= 0xF0)
    return output_->send(bytes, deadline);
  std::copy(bytes.begin(), bytes.end(), message.bytes.begin());
  message.size = static_cast<std::uint8_t>(bytes.size());
  const int channel = channel_of(message);
  const auto& route = routing_.routes[index(channel)];
  if (is_panic(message) && route.channel != channel)
    pass(message, deadline);
  if (is_note_off(message))
    return end_note(channel, note_of(message), velocity_of(message), deadline);
  if (!route.sends && !is_panic(message))
    return;
  if (is_note_on(message))
    begin_note(message, route, deadline);
  else if (status_of(message) == Status::program)
    choose_sound(message, route, deadline);
  else
    pass(on_channel(message, route.channel), deadline);
}

void RoutedOutput::take_routing(TimePoint deadline) noexcept {
  if (link_.version() == version_)
    return;
  const auto before = routing_;
  routing_ = link_.read(version_);
  for (int channel = 0; channel < channel_count; ++channel)
    if (before.routes[index(channel)] != routing_.routes[index(channel)])
      leave(channel, before.routes[index(channel)], deadline);
}

/// What sounds ends, and the pedal comes up, where the channel went before.
void RoutedOutput::leave(int channel, const Route& route, TimePoint deadline) noexcept {
  for (int note = 0; note < note_count; ++note)
    if (places_[index(channel)][index(note)].channel >= 0)
      end_note(channel, note, 64, deadline);
  if (route.sends)
    pass(control(route.channel, controller::sustain, 0), deadline);
}

void RoutedOutput::begin_note(const ShortMessage& on, const Route& route,
                              TimePoint deadline) noexcept {
  const int channel = channel_of(on), note = note_of(on), sent = note + route.transpose;
  end_note(channel, note, 64, deadline);
  if (sent < 0 || sent >= note_count)
    return;
  places_[index(channel)][index(note)] = {route.channel, static_cast<std::int8_t>(sent)};
  if (++sounding_[index(route.channel)][index(sent)] > 1)
    pass(note_off(route.channel, sent), deadline); // struck again
  pass(note_on(route.channel, sent, velocity_of(on)), deadline);
}

void RoutedOutput::end_note(int channel, int note, int velocity, TimePoint deadline) noexcept {
  auto& place = places_[index(channel)][index(note)];
  if (place.channel < 0)
    return;
  const auto went = place;
  place.channel = -1;
  if (--sounding_[index(went.channel)][index(went.note)] == 0)
    pass(note_off(went.channel, went.note, velocity), deadline);
}

void RoutedOutput::choose_sound(const ShortMessage& program, const Route& route,
                                TimePoint deadline) noexcept {
  if (route.program == Route::untouched)
    return;
  if (route.bank >= 0) {
    pass(control(route.channel, controller::bank, route.bank >> 7), deadline);
    pass(control(route.channel, controller::bank_fine, route.bank & 0x7F), deadline);
  }
  const int number = route.program >= 0 ? route.program : program.bytes[1];
  pass(midi::program(route.channel, number), deadline);
}

void RoutedOutput::pass(const ShortMessage& message, TimePoint deadline) noexcept {
  output_->send({message.bytes.data(), message.size}, deadline);
}

} // namespace landfall::midi
