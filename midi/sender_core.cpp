#include "midi/sender_core.hpp"

#include <algorithm>
#include <cassert>
#include <utility>

namespace landfall::midi {
namespace {

// Who struck a sounding note; a thru lane is from_thru + its number.
constexpr std::uint8_t from_plan = 0;
constexpr std::uint8_t from_control = 1;
constexpr std::uint8_t from_thru = 2;

constexpr std::uint16_t bit(int channel) {
  return static_cast<std::uint16_t>(1U << static_cast<unsigned>(channel));
}

std::size_t first_at_or_after(const Chunk& chunk, Ticks tick) noexcept {
  const auto found =
      std::lower_bound(chunk.messages.begin(), chunk.messages.end(), tick,
                       [](const PlannedMessage& m, Ticks limit) { return m.at < limit; });
  return static_cast<std::size_t>(found - chunk.messages.begin());
}

constexpr auto everything = [](const Sounding&) { return true; };
constexpr auto of_plan = [](const Sounding& note) { return note.source == from_plan; };

} // namespace

SenderCore::SenderCore(Output& output, SenderLinks& links, const Latest<Transport>& transport)
    : output_(output), links_(links), transport_link_(transport) {}

TimePoint SenderCore::step(TimePoint now) noexcept {
  read_transport();
  take_stop(now);
  take_panic(now);
  take_mutes(now);
  take_chunks(now);
  take_immediate(now);
  for (std::size_t lane = 0; lane < lanes_.size(); ++lane)
    take_thru(lane, now);
  take_clock(now);
  if (transport_.rolling)
    return perform(now);
  end_notes(of_plan, now);
  return never;
}

void SenderCore::finish(TimePoint now) noexcept {
  emit(clock_.stop(), now, now);
  end_notes(everything, now);
  release_pedals(used_, now);
  while (active_count_ > 0)
    retire(active_count_ - 1);
}

void SenderCore::read_transport() noexcept {
  std::uint64_t version = 0;
  transport_ = transport_link_.read(version);
  if (version < stop_.first_transport)
    transport_.rolling = false;
}

void SenderCore::take_stop(TimePoint now) noexcept {
  std::uint64_t version = 0;
  const StopMark mark = links_.stopped.read(version);
  if (version == stop_version_)
    return;
  stop_version_ = version;
  stop_ = mark;
  while (active_count_ > 0)
    retire(active_count_ - 1);
  planned_to_ = done_ = beginning;
  end_notes(of_plan, now);
  read_transport();
}

void SenderCore::take_panic(TimePoint now) noexcept {
  const auto panics = links_.panics.load(std::memory_order_acquire);
  if (panics == panics_)
    return;
  panics_ = panics;
  end_notes(everything, now);
  for (int channel = 0; channel < channel_count; ++channel) {
    emit(control(channel, controller::sustain, 0), now, now);
    emit(control(channel, controller::all_notes_off, 0), now, now);
    emit(control(channel, controller::all_sound_off, 0), now, now);
    emit(bend(channel, 0), now, now);
  }
}

void SenderCore::take_mutes(TimePoint now) noexcept {
  const auto before = std::exchange(muted_, links_.muted.load(std::memory_order_acquire));
  if ((muted_ & ~before) != 0)
    end_notes([this](const Sounding& note) { return (muted_ & bit(note.channel)) != 0; }, now);
}

void SenderCore::take_chunks(TimePoint now) noexcept {
  ChunkEntry entry;
  while (links_.chunks.peek(entry)) {
    if (entry.performance > stop_.performance)
      take_stop(now); // it was published before this chunk was pushed
    const bool extends =
        active_count_ > 0 && active_[active_count_ - 1].chunk->from < entry.chunk->from;
    if (active_count_ == active_limit && extends)
      return;
    links_.chunks.pop(entry);
    if (entry.performance < stop_.performance)
      links_.retired.push(entry.chunk);
    else
      accept(*entry.chunk);
  }
}

void SenderCore::accept(const Chunk& chunk) noexcept {
  for (std::size_t i = active_count_; i-- > 0;) {
    Active& earlier = active_[i];
    if (earlier.chunk->from < chunk.from)
      earlier.end = std::min(earlier.end, first_at_or_after(*earlier.chunk, chunk.from));
    else
      earlier.end = earlier.next; // replaced as a whole, anticipations included
    if (earlier.next >= earlier.end)
      retire(i);
  }
  planned_to_ = chunk.to;
  active_[active_count_++] = {&chunk, first_at_or_after(chunk, done_), chunk.messages.size()};
  if (active_[active_count_ - 1].next == chunk.messages.size())
    retire(active_count_ - 1);
}

void SenderCore::retire(std::size_t i) noexcept {
  const bool taken = links_.retired.push(active_[i].chunk);
  assert(taken); // it holds as many as can be on their way
  static_cast<void>(taken);
  std::copy(active_.begin() + static_cast<std::ptrdiff_t>(i) + 1,
            active_.begin() + static_cast<std::ptrdiff_t>(active_count_),
            active_.begin() + static_cast<std::ptrdiff_t>(i));
  --active_count_;
}

void SenderCore::take_immediate(TimePoint now) noexcept {
  TimedMessage live;
  while (links_.immediate.pop(live))
    play_live(live, from_control, now);
}

void SenderCore::take_thru(std::size_t number, TimePoint now) noexcept {
  ThruLane& link = links_.thru[number];
  Lane& lane = lanes_[number];
  const auto source = static_cast<std::uint8_t>(from_thru + number);
  const bool open = link.open.load(std::memory_order_acquire);
  const auto end_lane = [&] {
    end_notes([source](const Sounding& note) { return note.source == source; }, now);
    release_pedals(lane.used, now);
    lane.used = 0;
  };
  if (open != lane.open || link.map.version() != lane.map) {
    end_lane();
    lane.open = open;
    lane.thru.set(link.map.read(lane.map));
  }
  TimedMessage live;
  while (link.queue.pop(live)) {
    if (!open || !is_valid(live.message) || status_of(live.message) == Status::system)
      continue;
    const auto passed = lane.thru.pass(live.message);
    for (std::size_t i = 0; i < passed.count; ++i) {
      lane.used |= bit(channel_of(passed.messages[i]));
      play_live({live.time, passed.messages[i]}, source, now);
    }
  }
  if (const auto losses = link.losses(); losses != lane.losses) {
    end_lane();
    lane.losses = losses;
  }
}

/// A transport that is yet to come to its anchor stands there.
void SenderCore::take_clock(TimePoint now) noexcept {
  clock_runs_ = transport_.rolling && links_.clock.load(std::memory_order_relaxed);
  const auto at = transport_.tick_at(std::max(now, transport_.anchor_time));
  emit(clock_runs_ ? clock_.roll(at) : clock_.stop(), now, now);
}

Ticks SenderCore::next_tick() const noexcept {
  Ticks next = clock_runs_ ? clock_.next() : end_of_time;
  if (const auto ending = sounding_.next_to_end(); ending < sounding_.size())
    next = std::min(next, sounding_[ending].off);
  if (active_count_ > 0)
    next = std::min(next, next_message(next_active()).at);
  return next;
}

TimePoint SenderCore::perform(TimePoint now) noexcept {
  for (;;) {
    const auto at = next_tick();
    const auto due = at == end_of_time ? never : transport_.time_at(at);
    if (due > now) {
      mark_done(now);
      return due;
    }
    if (perform_next(at, due, now))
      links_.lateness.add(now - due);
  }
}

/// One thing that is due at `at`; false if it was not sent.
bool SenderCore::perform_next(Ticks at, TimePoint due, TimePoint now) noexcept {
  if (clock_runs_ && clock_.next() == at) {
    emit(clock_.take(), due, now);
    return true;
  }
  if (const auto ending = sounding_.next_to_end();
      ending < sounding_.size() && sounding_[ending].off == at) {
    end_note(ending, due, now);
    return true;
  }
  const auto active = next_active();
  const bool sent = perform(next_message(active), due, now);
  if (++active_[active].next == active_[active].end)
    retire(active);
  return sent;
}

bool SenderCore::perform(const PlannedMessage& planned, TimePoint due, TimePoint now) noexcept {
  if (!is_note_on(planned.message)) {
    emit(planned.message, due, now);
    return now - due <= too_late; // later only for one that joins: it needs the sounds
  }
  if ((muted_ & bit(channel_of(planned.message))) != 0)
    return false;
  if (now - due > too_late) {
    links_.skipped.fetch_add(1, std::memory_order_relaxed);
    return false;
  }
  strike(planned.message, planned.at + std::max(planned.length, Ticks{1}), from_plan, due, now);
  return true;
}

void SenderCore::mark_done(TimePoint now) noexcept {
  Ticks passed = transport_.tick_at(now);
  if (transport_.time_at(passed) > now)
    passed -= Ticks{1};
  done_ = std::max(done_, std::min(passed + Ticks{1}, planned_to_));
}

std::size_t SenderCore::next_active() const noexcept {
  std::size_t found = 0;
  for (std::size_t i = 1; i < active_count_; ++i)
    if (next_message(i).at < next_message(found).at)
      found = i;
  return found;
}

const PlannedMessage& SenderCore::next_message(std::size_t i) const noexcept {
  return active_[i].chunk->messages[active_[i].next];
}

void SenderCore::play_live(const TimedMessage& live, std::uint8_t source, TimePoint now) noexcept {
  const auto due = std::min(live.time, now);
  const auto& message = live.message;
  if (is_note_on(message)) {
    if ((muted_ & bit(channel_of(message))) == 0)
      strike(message, Sounding::until_told, source, due, now);
    return;
  }
  if (is_note_off(message)) {
    const auto i = sounding_.find(channel_of(message), note_of(message));
    if (i < sounding_.size())
      sounding_.remove(i);
  }
  emit(message, due, now);
}

void SenderCore::strike(const ShortMessage& on, Ticks off, std::uint8_t source, TimePoint due,
                        TimePoint now) noexcept {
  const auto channel = static_cast<std::uint8_t>(channel_of(on));
  const auto note = static_cast<std::uint8_t>(note_of(on));
  const auto same = sounding_.find(channel, note);
  if (same < sounding_.size())
    end_note(same, due, now);
  sounding_.add({off, channel, note, source});
  emit(on, due, now);
}

void SenderCore::end_note(std::size_t i, TimePoint due, TimePoint now) noexcept {
  const Sounding note = sounding_[i];
  sounding_.remove(i);
  emit(note_off(note.channel, note.note), due, now);
}

template <typename Which> void SenderCore::end_notes(Which which, TimePoint now) noexcept {
  for (std::size_t i = sounding_.size(); i-- > 0;)
    if (which(sounding_[i]))
      end_note(i, now, now);
}

void SenderCore::release_pedals(std::uint16_t channels, TimePoint now) noexcept {
  for (int channel = 0; channel < channel_count; ++channel)
    if ((channels & bit(channel)) != 0)
      emit(control(channel, controller::sustain, 0), now, now);
}

void SenderCore::emit(const ShortMessage& message, TimePoint due, TimePoint now) noexcept {
  if (message.size == 0 || message.size > message.bytes.size())
    return;
  if (status_of(message) != Status::system)
    used_ |= bit(channel_of(message));
  links_.sending_since.store(now.time_since_epoch().count(), std::memory_order_relaxed);
  output_.send({message.bytes.data(), message.size}, due);
  links_.sending_since.store(0, std::memory_order_relaxed);
}

void SenderCore::emit(const ClockOut::Batch& batch, TimePoint due, TimePoint now) noexcept {
  for (std::size_t i = 0; i < batch.count; ++i)
    emit(batch.messages[i], due, now);
}

} // namespace landfall::midi
