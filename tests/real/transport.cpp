#include "real/transport.hpp"

#include <cmath>
#include <cstdint>

namespace landfall::real {
namespace {

constexpr int beats_per_bar = 4;
constexpr double ticks_per_beat = 1920;

} // namespace

JackTransport::JackTransport(double beats_per_minute)
    : tempo_(beats_per_minute), client_(jack_client_open("transport", JackNoStartServer, nullptr)) {
  if (client_ == nullptr)
    return;
  rate_ = jack_get_sample_rate(client_);
  jack_set_timebase_callback(client_, 0, tell_bar, this);
  jack_activate(client_);
  stop();
  go_to(1);
}

JackTransport::~JackTransport() {
  if (client_ != nullptr)
    jack_client_close(client_);
}

void JackTransport::go_to(int bar) const {
  jack_transport_locate(client_, static_cast<jack_nframes_t>(
                                     std::lround((bar - 1) * beats_per_bar * frames_per_beat())));
}

void JackTransport::tell_bar(jack_transport_state_t, jack_nframes_t, jack_position_t* position, int,
                             void* self) {
  const auto& us = *static_cast<const JackTransport*>(self);
  const double beats = position->frame / us.frames_per_beat();
  const auto whole = static_cast<std::int32_t>(beats + 1e-6);
  position->valid = JackPositionBBT;
  position->bar = whole / beats_per_bar + 1;
  position->beat = whole % beats_per_bar + 1;
  position->tick = static_cast<std::int32_t>((beats - whole) * ticks_per_beat);
  position->tick = position->tick < 0 ? 0 : position->tick;
  position->bar_start_tick = (position->bar - 1) * beats_per_bar * ticks_per_beat;
  position->beats_per_bar = beats_per_bar;
  position->beat_type = 4;
  position->ticks_per_beat = ticks_per_beat;
  position->beats_per_minute = us.tempo_;
}

} // namespace landfall::real
