#include "ear/tracker.hpp"

#include <algorithm>

namespace landfall::ear {
namespace {

constexpr std::size_t looked_back = 64;  ///< Notes that may still ring.
constexpr std::size_t most_bends = 4096; ///< Of one note.
constexpr std::size_t most_kept = 4096;  ///< Of notes, where one hangs.

template <typename... Cases> struct Overload : Cases... { using Cases::operator()...; };
template <typename... Cases> Overload(Cases...) -> Overload<Cases...>;

bool is_channel(int channel) {
  return channel >= 0 && channel < 16;
}

/// The notes that may still change.
auto recent(std::vector<HeardNote>& notes) {
  return notes.end() - static_cast<std::ptrdiff_t>(std::min(notes.size(), looked_back));
}

/// Rising; of several at one tick the last. When there are too many the last place is used again.
void add(BendPoint point, std::vector<BendPoint>& bends) {
  if (bends.empty() ? point.cents == 0.0 : bends.back().cents == point.cents)
    return;
  if (!bends.empty() && (bends.back().at >= point.at || bends.size() >= most_bends))
    bends.back().cents = point.cents;
  else
    bends.push_back(point);
}

} // namespace

void Tracker::take(const Event& event) {
  std::visit(Overload{
                 [&](const NoteOn& on) { begin(on); },
                 [&](const NoteOff& off) { end(off); },
                 [&](const Bend& each) { bend(each); },
                 [&](const Pedal& each) { pedal(each); },
             },
             event);
}

void Tracker::begin(const NoteOn& on) {
  if (!is_channel(on.channel) || on.midi < 0 || on.midi > 127)
    return;
  end({on.at, on.channel, on.midi});
  for (auto note = recent(notes_); note != notes_.end(); ++note)
    if (note->channel == on.channel && note->midi == on.midi && !note->silent)
      note->silent = on.at; // struck again under the pedal
  HeardNote note;
  note.slurred = on.string && end_string(on);
  note.on = on.at;
  note.channel = on.channel;
  note.midi = on.midi;
  note.velocity = on.velocity;
  note.string = on.string;
  const double cents = cents_[static_cast<std::size_t>(on.channel)];
  if (cents != 0.0)
    note.bends.push_back({on.at, cents});
  const auto place = std::upper_bound(recent(notes_), notes_.end(), on.at,
                                      [](Ticks at, const HeardNote& each) { return at < each.on; });
  notes_.insert(place, std::move(note));
}

/// Whether a note still sounded on the string.
bool Tracker::end_string(const NoteOn& on) {
  bool sounded = false;
  for (auto note = recent(notes_); note != notes_.end(); ++note) {
    if (note->channel != on.channel || note->midi == on.midi || note->silent)
      continue;
    note->off = std::max(note->on, std::min(on.at, note->off.value_or(on.at)));
    note->silent = std::max(note->on, on.at);
    sounded = true;
  }
  return sounded;
}

void Tracker::end(const NoteOff& off) {
  if (!is_channel(off.channel))
    return;
  for (auto note = recent(notes_); note != notes_.end(); ++note) {
    if (note->off || note->channel != off.channel || note->midi != off.midi)
      continue;
    note->off = std::max(off.at, note->on);
    if (!held_[static_cast<std::size_t>(off.channel)])
      note->silent = note->off;
  }
}

void Tracker::bend(const Bend& bend) {
  if (!is_channel(bend.channel))
    return;
  cents_[static_cast<std::size_t>(bend.channel)] = bend.cents;
  for (auto note = recent(notes_); note != notes_.end(); ++note)
    if (note->channel == bend.channel && !note->silent)
      add({std::max(bend.at, note->on), bend.cents}, note->bends);
}

void Tracker::pedal(const Pedal& pedal) {
  for (int channel = 0; channel < 16; ++channel) {
    if (pedal.channel && *pedal.channel != channel)
      continue;
    held_[static_cast<std::size_t>(channel)] = pedal.down;
    if (pedal.down)
      continue;
    for (auto note = recent(notes_); note != notes_.end(); ++note)
      if (note->channel == channel && note->off && !note->silent)
        note->silent = std::max(pedal.at, *note->off);
  }
}

void Tracker::end_all(Ticks at) {
  pedal({at, std::nullopt, false});
  for (auto note = recent(notes_); note != notes_.end(); ++note)
    if (!note->off) {
      note->off = std::max(at, note->on);
      note->silent = note->off;
    }
}

void Tracker::clear() {
  notes_.clear();
  cents_.fill(0.0);
  held_.fill(false);
}

void Tracker::forget_before(Ticks tick, std::size_t keep) {
  auto last = notes_.begin();
  const auto over = static_cast<std::ptrdiff_t>(notes_.size() - std::min(notes_.size(), most_kept));
  while (last != notes_.end() &&
         (last - notes_.begin() < over || (last->silent && *last->silent < tick)))
    ++last;
  const auto most = static_cast<std::ptrdiff_t>(notes_.size() - std::min(keep, notes_.size()));
  notes_.erase(notes_.begin(), notes_.begin() + std::min(last - notes_.begin(), most));
}

} // namespace landfall::ear
