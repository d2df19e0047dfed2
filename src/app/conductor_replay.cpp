#include "app/conductor.hpp"
#include "band/band.hpp"
#include "song/pulse.hpp"

#include <algorithm>
#include <utility>

namespace landfall::app {
namespace {

constexpr Ticks ahead = quarter * 8; ///< How far passes are handed over.

} // namespace

void Conductor::replay(Replay replay) {
  const Lock lock(mutex_);
  replay.to = std::max(replay.to, replay.from + quarter);
  if (session_.started() && !returns_at_) {
    const auto left = std::max(published_.tick_at(Clock::now()), Ticks{});
    returns_at_ = session_.timeline().performance.bar_line_from(left);
  }
  for (const auto& sender : senders_) {
    sender->stop();
    sender->mute(muted_channels(replay.timeline->choice_at(replay.from)));
  }
  replay_ = std::move(replay);
  passes_ = 0;
  leads_back_ = false;
  hand_over_passes({});
  publish({true, {}, Clock::now() + lead_in, replay_->tempo_at({}), false, {}, {}});
  changed_.notify_all();
}

void Conductor::end_replay() {
  const Lock lock(mutex_);
  if (replay_)
    end_replay_locked();
}

void Conductor::end_replay_locked() {
  if (returns_at_ && session_.timeline().performance.at(*returns_at_))
    return lead_back();
  stop_locked();
}

void Conductor::hand_over_passes(Ticks now) {
  for (; (replay_->loops || passes_ == 0) && replay_->length() * passes_ <= now + ahead; ++passes_)
    for (const auto& sender : senders_)
      sender->submit(replay_->pass(passes_));
}

void Conductor::replay_on(Ticks now) {
  hand_over_passes(now);
  auto transport = published_.settled(now);
  if (const auto next = replay_->tempo_after(std::max(now, transport.anchor_tick)))
    transport = transport.with_tempo(next->first, next->second);
  if (!(transport == published_))
    publish(transport);
  if (!replay_->loops && now > replay_->length() + eighth)
    end_replay_locked();
}

/// A bar of count-in, then the performance goes on where it waits.
void Conductor::lead_back() {
  replay_.reset();
  leads_back_ = true;
  const auto at = *returns_at_;
  for (const auto& sender : senders_) {
    sender->stop();
    sender->mute(muted_channels(session_.latest_choice()));
  }
  session_.advance(at);
  take_plans();
  const auto moment = session_.timeline().performance.at(at);
  song::Form bar = *moment->stretch->form;
  bar.pickup.clear();
  bar.bars = {*moment->bar};
  practice::Plan count{at - song::bar_length(moment->bar->meter), at, {}, moment->bar->feel};
  count.events = band::plan_count_in(bar, 1, *setup_.feels);
  for (auto& event : count.events)
    event.at += at;
  const auto submit_to_all = [&](const midi::Chunk& chunk) {
    for (const auto& sender : senders_)
      sender->submit(chunk);
  };
  submit_to_all(chunk_of(count, *setup_.feels->find(count.feel)));
  for (const auto& chunk : current_)
    if (chunk.to > at)
      submit_to_all(with_notes(rest_of(chunk, at)));
  publish({true,
           count.from,
           Clock::now() + lead_in,
           session_.timeline().tempo_at(count.from),
           false,
           {},
           {}});
  refresh();
}

void Conductor::start_at(Ticks at) {
  const Lock lock(mutex_);
  stop_locked();
  kept_.clear();
  ++runs_;
  session_.start(false);
  session_.advance(at);
  returns_at_ = at;
  lead_back();
  steering_.begin(published_.anchor_tick);
  changed_.notify_all();
}

/// Where a replay stands, as a transport on the ticks of what is replayed.
Transport Conductor::replayed_transport() const {
  auto transport = published_;
  const auto now = published_.tick_at(Clock::now());
  const auto moved = replay_->place_at(now) - now;
  transport.anchor_tick += moved;
  transport.next_tick += moved;
  return transport;
}

bool Conductor::away_locked() const {
  return replay_ || (leads_back_ && published_.tick_at(Clock::now()) < *returns_at_);
}

} // namespace landfall::app
