#include "app/conductor.hpp"

#include "app/lasting.hpp"
#include "midi/message.hpp"

#include <algorithm>
#include <iterator>
#include <utility>

namespace landfall::app {
namespace {

constexpr std::size_t most_kept = 8000;             ///< Plans: some hours.
constexpr std::chrono::milliseconds pulse{20};      ///< Between looks at what must be planned.
constexpr std::chrono::milliseconds clock_pulse{4}; ///< Between looks at a clock that leads.
constexpr std::chrono::milliseconds margin{30};     ///< A plan must be with the senders this early.

} // namespace

Conductor::Conductor(practice::Session::Setup setup)
    : setup_(setup), session_(std::move(setup)), transport_(lasting<midi::Latest<Transport>>()),
      timeline_(std::make_shared<const practice::Timeline>(session_.timeline())),
      clock_(lasting<midi::ClockLink>()), thread_([this] { run(); }) {}

Conductor::~Conductor() {
  {
    const Lock lock(mutex_);
    stop_locked();
    ending_ = true;
  }
  changed_.notify_all();
  thread_.join();
}

void Conductor::add(std::unique_ptr<midi::Sender> sender) {
  const Lock lock(mutex_);
  sender->mute(muted_channels(session_.latest_choice()));
  sender->send_clock(sends_clock_);
  send_sounds(*sender);
  const auto now = published_.tick_at(Clock::now());
  if (playing())
    for (const auto& chunk : current_)
      sender->submit(rest_of(with_notes(chunk), now));
  if (replay_)
    for (auto pass = replay_->pass_at(now); pass < passes_; ++pass)
      sender->submit(rest_of(replay_->pass(pass), now));
  senders_.push_back(std::move(sender));
  publish(published_);
}

std::unique_ptr<midi::Sender> Conductor::take(const midi::Sender* sender) {
  const Lock lock(mutex_);
  const auto found = std::find_if(senders_.begin(), senders_.end(),
                                  [&](const auto& each) { return each.get() == sender; });
  if (found == senders_.end())
    return nullptr;
  auto taken = std::move(*found);
  senders_.erase(found);
  return taken;
}

void Conductor::send_sounds(std::vector<int> lead_channels) {
  const Lock lock(mutex_);
  lead_channels_ = std::move(lead_channels);
  for (const auto& sender : senders_)
    send_sounds(*sender);
}

/// Of what is played live, and of the band as far as it is planned.
void Conductor::send_sounds(midi::Sender& sender) const {
  const auto now = Clock::now();
  for (const int channel : lead_channels_)
    sender.send_now(midi::program(channel, lead_program), now);
  sender.send_now(midi::program(teacher_channel, teacher_program), now);
  sender.send_now(midi::program(call_channel, call_program), now);
  if (current_.empty())
    return;
  for (const auto& planned : current_.front().messages)
    if (midi::status_of(planned.message) == midi::Status::program)
      sender.send_now(planned.message, now);
}

void Conductor::start() {
  const Lock lock(mutex_);
  start_locked();
}

void Conductor::stop() {
  const Lock lock(mutex_);
  stop_locked();
}

bool Conductor::rolling() const {
  const Lock lock(mutex_);
  return published_.rolling;
}

void Conductor::start_locked() {
  stop_locked();
  kept_.clear();
  ++runs_;
  session_.start();
  const auto first = -session_.timeline().count_in;
  Transport transport{
      true, first, Clock::now() + lead_in, session_.timeline().tempo_at(first), false, {}, {}};
  if (is_clock_there())
    count_in_with(clock_.reading.read(), transport);
  begin(transport);
}

void Conductor::begin(const Transport& transport) {
  hand_over();
  steering_.begin(transport.anchor_tick);
  publish(transport);
  refresh();
  changed_.notify_all();
}

void Conductor::stop_locked() {
  current_.clear();
  notes_.clear();
  for (const auto& sender : senders_) {
    sender->stop();
    sender->mute(muted_channels(session_.latest_choice()));
  }
  auto transport = published_;
  replay_.reset();
  returns_at_.reset();
  leads_back_ = false;
  if (std::exchange(transport.rolling, false) && session_.started()) {
    performed_ = std::make_shared<const Performed>(performed_so_far());
    session_.stop();
    refresh();
  }
  publish(transport);
}

void Conductor::apply(const practice::Command& command) {
  apply(std::span(&command, 1));
}

void Conductor::apply(std::span<const practice::Command> commands) {
  const Lock lock(mutex_);
  for (const Ticks from = soonest(); const auto& command : commands)
    if (!is_led(command))
      session_.apply(command, from);
  if (!replay_)
    for (const auto& sender : senders_)
      sender->mute(muted_channels(session_.latest_choice()));
  if (playing()) {
    hand_over();
    follow_tempo(published_.tick_at(Clock::now()));
  }
  refresh();
}

void Conductor::set_up(practice::Session::Setup setup) {
  const Lock lock(mutex_);
  const bool was_rolling = session_.started();
  stop_locked();
  setup_ = setup;
  session_ = practice::Session(std::move(setup));
  for (const auto& sender : senders_)
    sender->mute(muted_channels(session_.latest_choice()));
  if (was_rolling)
    start_locked();
  refresh();
}

Snapshot Conductor::snapshot() const {
  const Lock lock(mutex_);
  const bool away = away_locked();
  if (replay_)
    return {replay_->timeline,    replay_->song, session_.latest_choice(),
            replayed_transport(), runs_,         away};
  return {timeline_, setup_.song, session_.latest_choice(), published_, runs_, away};
}

Performed Conductor::performed_so_far() const {
  return {std::make_shared<const practice::Timeline>(session_.timeline()), setup_.song, kept_,
          setup_.seed, runs_};
}

std::shared_ptr<const Performed> Conductor::performed() const {
  const Lock lock(mutex_);
  return performed_;
}

std::shared_ptr<const Performed> Conductor::performing() const {
  const Lock lock(mutex_);
  return session_.started() ? std::make_shared<const Performed>(performed_so_far()) : nullptr;
}

void Conductor::play_now(const midi::ShortMessage& message, TimePoint when) {
  const Lock lock(mutex_);
  for (const auto& sender : senders_)
    sender->send_now(message, when);
}

void Conductor::panic() {
  const Lock lock(mutex_);
  for (const auto& sender : senders_)
    sender->panic();
}

void Conductor::keep_plans() {
  const Lock lock(mutex_);
  keeps_ = true;
}

midi::SenderReport Conductor::report() const {
  const Lock lock(mutex_);
  midi::SenderReport total;
  for (const auto& sender : senders_) {
    auto one = sender->report();
    const auto drops = total.drops + one.drops;
    if (total.lateness.events == 0)
      total = one;
    total.drops = drops;
  }
  return total;
}

void Conductor::run() {
  Lock lock(mutex_);
  while (!ending_) {
    heed_clock();
    if (!published_.rolling) {
      follows_ ? static_cast<void>(changed_.wait_for(lock, clock_pulse)) : changed_.wait(lock);
      continue;
    }
    const auto now = published_.tick_at(Clock::now());
    if (replay_)
      replay_on(now);
    else
      play_on(now);
    changed_.wait_for(lock, follows_ ? clock_pulse : pulse);
  }
}

void Conductor::play_on(Ticks now) {
  if (leads_back_ && now >= *returns_at_) {
    leads_back_ = false;
    returns_at_.reset();
  }
  session_.advance(leads_back_ ? *returns_at_ : now);
  hand_over();
  follow_tempo(now);
  const auto last = session_.last_tick();
  if (last && now > *last + quarter)
    stop_locked();
}

std::vector<midi::Chunk> Conductor::take_plans() {
  auto plans = session_.take_plans();
  std::vector<midi::Chunk> chunks;
  chunks.reserve(plans.size());
  for (const auto& plan : plans)
    chunks.push_back(chunk_of(plan, *setup_.feels->find(plan.feel)));
  if (keeps_)
    std::move(plans.begin(), plans.end(), std::back_inserter(kept_));
  if (kept_.size() > most_kept)
    kept_.erase(kept_.begin(), kept_.begin() + most_kept / 2);
  current_.insert(current_.end(), chunks.begin(), chunks.end());
  return chunks;
}

void Conductor::hand_over() {
  const auto chunks = take_plans();
  if (chunks.empty())
    return;
  for (const auto& chunk : chunks)
    submit(chunk);
  if (published_.rolling) {
    const auto now = published_.tick_at(Clock::now());
    std::erase_if(current_, [&](const midi::Chunk& chunk) { return chunk.to < now; });
  }
  refresh();
}

void Conductor::submit(const midi::Chunk& chunk) {
  for (const auto& sender : senders_)
    sender->submit(with_notes(chunk));
}

/// A later chunk replaces an earlier one's notes along with its band.
midi::Chunk Conductor::with_notes(midi::Chunk chunk) const {
  const auto band = static_cast<std::ptrdiff_t>(chunk.messages.size());
  std::copy_if(notes_.begin(), notes_.end(), std::back_inserter(chunk.messages),
               [&](const auto& note) { return note.at >= chunk.from && note.at < chunk.to; });
  std::inplace_merge(chunk.messages.begin(), chunk.messages.begin() + band, chunk.messages.end(),
                     [](const auto& a, const auto& b) { return a.at < b.at; });
  return chunk;
}

void Conductor::play_with_band(std::vector<midi::PlannedMessage> notes) {
  const Lock lock(mutex_);
  notes_ = std::move(notes);
  if (!playing())
    return;
  const auto from = soonest();
  for (auto chunk : current_) {
    if (chunk.to <= from)
      continue;
    chunk.from = std::max(chunk.from, from);
    std::erase_if(chunk.messages, [&](const auto& message) { return message.at < from; });
    for (const auto& sender : senders_)
      sender->submit(with_notes(chunk));
  }
}

void Conductor::follow_tempo(Ticks now) {
  auto transport = published_.settled(now);
  if (const auto next = session_.timeline().tempo_after(std::max(now, transport.anchor_tick)))
    transport = transport.with_tempo(next->first, next->second);
  if (!(transport == published_))
    publish(transport);
}

void Conductor::publish(const Transport& transport) {
  published_ = transport;
  transport_.publish(transport);
  for (const auto& sender : senders_)
    sender->wake();
}

void Conductor::refresh() {
  timeline_ = std::make_shared<const practice::Timeline>(session_.timeline());
}

Ticks Conductor::soonest() const {
  if (!playing())
    return returns_at_.value_or(Ticks{});
  const auto soon = published_.tick_at(Clock::now() + margin) + Ticks{1};
  return leads_back_ ? std::max(soon, *returns_at_) : soon;
}

} // namespace landfall::app
