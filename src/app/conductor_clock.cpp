#include "app/conductor.hpp"

#include <utility>

namespace landfall::app {

void Conductor::send_clock(bool sends) {
  const Lock lock(mutex_);
  if (sends_clock_ == sends)
    return;
  sends_clock_ = sends;
  for (const auto& sender : senders_)
    sender->send_clock(sends);
}

void Conductor::follow_clock(bool follows) {
  {
    const Lock lock(mutex_);
    if (follows_ == follows)
      return;
    follows_ = follows;
    const auto reading = clock_.reading.read();
    clock_starts_ = reading.starts;
    clock_ran_ = reading.running;
  }
  changed_.notify_all();
}

bool Conductor::is_clock_there() const {
  if (!follows_)
    return false;
  const auto reading = clock_.reading.read();
  return reading.tempo_known &&
         Clock::now() - reading.line.anchor_time < midi::ClockFollower::silence;
}

bool Conductor::is_led(const practice::Command& command) const {
  return std::holds_alternative<practice::SetTempo>(command) && is_clock_there();
}

void Conductor::heed_clock() {
  if (!follows_)
    return;
  const auto reading = clock_.reading.read();
  const bool starts = reading.starts != std::exchange(clock_starts_, reading.starts);
  const bool stops = std::exchange(clock_ran_, reading.running) && !reading.running;
  if (starts && reading.running)
    start_with_clock(reading.line);
  else if (stops)
    stop_locked();
  else if (playing() && is_clock_there())
    steer(reading);
}

/// At once, where the clock is, and without a count-in.
void Conductor::start_with_clock(const Transport& line) {
  stop_locked();
  kept_.clear();
  ++runs_;
  const auto at = line.anchor_tick;
  session_.start(false);
  session_.advance(at);
  if (clock_.reading.read().tempo_known)
    session_.steer({}, line.tempo);
  clock_to_us_ = {};
  auto transport = line;
  transport.tempo = session_.timeline().tempo_at(at);
  auto chunks = take_plans();
  current_.clear();
  for (auto& chunk : chunks)
    if (chunk.to > at)
      current_.push_back(rest_of(std::move(chunk), at));
  for (const auto& chunk : current_)
    submit(chunk);
  begin(transport);
}

/// The player starts: counted in at the clock's tempo, so that bar 1 falls on a bar line of a clock
/// that runs.
void Conductor::count_in_with(const midi::ClockReading& reading, Transport& transport) {
  const auto first = transport.anchor_tick;
  session_.steer(first, reading.line.tempo);
  transport.tempo = reading.line.tempo;
  const auto bar = song::bar_length(setup_.song->meter);
  const auto soon = reading.line.tick_at(transport.anchor_time);
  const auto bar_line = bar * (floor_div(soon - first - Ticks{1}, bar) + 1);
  clock_to_us_ = -bar_line;
  if (reading.running)
    transport.anchor_time = reading.line.time_at(first - clock_to_us_);
}

void Conductor::steer(const midi::ClockReading& reading) {
  const auto now = Clock::now();
  const auto bend =
      steering_.bend(reading, session_.timeline(), published_, soonest(), clock_to_us_, now);
  if (!bend)
    return;
  session_.steer(bend->from, bend->tempo);
  session_.steer(bend->to, bend->after);
  follow_tempo(published_.tick_at(now));
  refresh();
}

} // namespace landfall::app
