#include "app/play_through.hpp"

#include "app/chunks.hpp"
#include "midi/message.hpp"

#include <algorithm>

namespace landfall::app {
namespace {

constexpr Ticks step = eighth;
constexpr Ticks last_step = quarter * 2; ///< The root at the end rings.
constexpr int velocity = 88;

} // namespace

Ticks PlayThrough::to() const {
  return notes.empty() ? from
                       : from + step * static_cast<std::int64_t>(notes.size() - 1) + last_step;
}

const neck::NeckNote* PlayThrough::at(Ticks tick) const {
  if (tick < from || tick >= to())
    return nullptr;
  const auto index = static_cast<std::size_t>(floor_div(tick - from, step));
  return &notes[std::min(index, notes.size() - 1)];
}

std::vector<neck::NeckNote> up_and_down(const std::vector<neck::NeckNote>& notes, bool all) {
  std::vector<neck::NeckNote> rising;
  for (const auto& note : notes)
    if (note.in_set && (all || note.role == neck::Role::landing))
      rising.push_back(note);
  std::stable_sort(rising.begin(), rising.end(),
                   [](const auto& a, const auto& b) { return a.midi.number < b.midi.number; });
  if (rising.size() < 2)
    return rising;
  const auto root = std::find_if(rising.begin(), rising.end(), [](const auto& note) {
    return note.degree == theory::Degree{1, 0};
  });
  const auto first = root == rising.end() ? rising.begin() : root;
  std::vector<neck::NeckNote> path(first, rising.end());
  path.insert(path.end(), std::next(rising.rbegin()), rising.rend());
  path.insert(path.end(), std::next(rising.begin()), std::next(first));
  return path;
}

std::vector<midi::PlannedMessage> messages_of(const PlayThrough& through) {
  std::vector<midi::PlannedMessage> messages;
  auto at = through.from;
  for (const auto& note : through.notes) {
    const bool last = &note == &through.notes.back();
    messages.push_back({at, (last ? last_step : step) - Ticks{1},
                        midi::note_on(lead_channel, note.midi.number, velocity)});
    at += step;
  }
  return messages;
}

} // namespace landfall::app
