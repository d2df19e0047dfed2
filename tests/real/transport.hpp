#pragma once

#include <jack/jack.h>

namespace landfall::real {

/// The server's transport in 4/4 at one tempo, whose master we are: it tells all clients the bar.
class JackTransport {
public:
  explicit JackTransport(double beats_per_minute);
  ~JackTransport();
  JackTransport(const JackTransport&) = delete;
  JackTransport& operator=(const JackTransport&) = delete;

  bool running() const { return client_ != nullptr; }
  void start() const { jack_transport_start(client_); }
  void stop() const { jack_transport_stop(client_); }
  /// To the beginning of a bar; the first is 1.
  void go_to(int bar) const;

private:
  static void tell_bar(jack_transport_state_t state, jack_nframes_t frames,
                       jack_position_t* position, int is_new, void* self);
  double frames_per_beat() const { return 60 * rate_ / tempo_; }

  double tempo_, rate_ = 0;
  jack_client_t* client_;
};

} // namespace landfall::real
