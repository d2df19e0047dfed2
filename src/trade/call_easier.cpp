#include "trade/call_answer.hpp"

#include <algorithm>

namespace landfall::trade {
namespace {

/// The order in which notes go: 0 first; none for landings, which stay.
std::optional<int> dispensable(const Phrase& call, const PhraseNote& note, int index) {
  if (note.role == PhraseRole::landing)
    return std::nullopt;
  if (note.role != PhraseRole::set)
    return 0;
  if (floor_mod(note.start, song::beat_length(call.meter)).count != 0)
    return 1;
  return index % 2 == 1 ? std::optional(2) : std::nullopt;
}

/// What a note held up to the one that went now holds up to the next.
void close_gap(std::vector<PhraseNote>& notes, std::size_t index) {
  if (index == 0)
    return;
  auto& before = notes[index - 1];
  if (before.start + before.length == notes[index].start)
    before.length += notes[index].length;
}

} // namespace

Phrase easier(const Phrase& call) {
  auto result = call;
  const auto wanted = (call.notes.size() * 2 + 1) / 3;
  for (int turn = 0; turn <= 2; ++turn)
    for (std::size_t i = result.notes.size(); i-- > 0 && result.notes.size() > wanted;)
      if (dispensable(result, result.notes[i], static_cast<int>(i)) == turn) {
        close_gap(result.notes, i);
        result.notes.erase(result.notes.begin() + static_cast<std::ptrdiff_t>(i));
      }
  return result;
}

} // namespace landfall::trade
