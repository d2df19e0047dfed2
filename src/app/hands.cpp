#include "app/hands.hpp"

#include <algorithm>

namespace landfall::app {
namespace {

constexpr std::chrono::milliseconds fade{260};
constexpr std::size_t most_played = 512;

} // namespace

std::optional<int> fret_of(const neck::Instrument& instrument, int string, int midi) {
  const neck::Fretboard board(instrument);
  if (instrument.kind != neck::Instrument::Kind::fretted || string < 1 || string > board.count)
    return std::nullopt;
  for (int fret = 0; fret <= board.frets; ++fret)
    if (board.pitch(board.count - string, fret) == midi)
      return fret;
  return std::nullopt;
}

void Hands::strike(Source source, const Strike& strike) {
  release(source, strike.when, strike.tick);
  Held held;
  held.note.midi = source.midi;
  held.note.kind = strike.kind;
  held.note.string = strike.string;
  held.note.fret = strike.fret;
  held.played = forgotten_ + played_.size();
  if (strike.tick)
    played_.push_back(
        {*strike.tick, std::nullopt, source.midi, strike.kind == ear::NoteClass::landing});
  else
    held.played = static_cast<std::size_t>(-1);
  notes_.emplace(source, held);
  while (played_.size() > most_played) {
    played_.pop_front();
    ++forgotten_;
  }
}

void Hands::release(Source source, TimePoint when, std::optional<Ticks> tick) {
  const auto [first, last] = notes_.equal_range(source);
  for (auto entry = first; entry != last; ++entry) {
    auto& held = entry->second;
    if (held.released)
      continue;
    held.released = when;
    if (const auto bend = bends_.find(source.channel); bend != bends_.end())
      held.note.bend = bend->second; // what the channel does next is not this note's
    const auto index = held.played - forgotten_;
    if (tick && held.played >= forgotten_ && index < played_.size())
      played_[index].to = std::max(*tick, played_[index].from + Ticks{1});
  }
}

void Hands::bend(int channel, double half_steps) {
  bends_[channel] = half_steps;
}

void Hands::release_all(TimePoint when, std::optional<Ticks> tick) {
  std::vector<Source> sources;
  for (const auto& [source, held] : notes_)
    sources.push_back(source);
  for (const auto source : sources)
    release(source, when, tick);
  bends_.clear();
}

std::vector<SoundingNote> Hands::sounding(TimePoint now) const {
  std::vector<SoundingNote> notes;
  for (const auto& [source, held] : notes_) {
    auto note = held.note;
    if (const auto bend = bends_.find(source.channel); bend != bends_.end() && !held.released)
      note.bend = bend->second;
    if (held.released) {
      const std::chrono::duration<double> since = now - *held.released;
      note.brightness = 1.0 - since / std::chrono::duration<double>(fade);
    }
    if (note.brightness > 0.0)
      notes.push_back(note);
  }
  return notes;
}

std::vector<PlayedNote> Hands::played() const {
  return {played_.begin(), played_.end()};
}

bool Hands::fading(TimePoint now) const {
  return std::any_of(notes_.begin(), notes_.end(), [&](const auto& entry) {
    return entry.second.released && now < *entry.second.released + fade + fade;
  });
}

void Hands::forget_played() {
  forgotten_ += played_.size();
  played_.clear();
}

void Hands::tidy(TimePoint now, Ticks oldest) {
  std::erase_if(notes_, [&](const auto& entry) {
    return entry.second.released && now > *entry.second.released + fade;
  });
  while (!played_.empty() && played_.front().to && *played_.front().to < oldest) {
    played_.pop_front();
    ++forgotten_;
  }
}

} // namespace landfall::app
