#pragma once

#include "practice/session.hpp"

namespace landfall::practice {

/// What a take holds besides its notes: enough to judge it again and to show it as it was.
struct TakeHead {
  std::shared_ptr<const song::Song> song; ///< Never null.
  Timeline timeline;
  std::uint64_t seed = 1;
  Ticks from; ///< Performance ticks: where the take begins and ends.
  Ticks to;
};

/// Lines of text: a head, then the song's own text.
///
///     landfall take 1
///     seed: 1
///     span: -3840 61440
///     count-in: 3840
///     first: key A                  what held at the start, a line for each command
///     at: 7680 key D                a command as it took hold; `by-itself:` for a step of moves
///     tempo: 0 500000               every tempo with the tick where it takes over
///     stretch: 0 0 0 30720 A        start, chorus, form ticks from and to, key, own feel if any;
///     closing: 30720 1 0 7680 A     the same, where the song comes home after that bar
///     song:
///     (the song's text up to the end)
///
/// See command_text.hpp for the commands.
std::string as_text(const TakeHead& head);

/// Reads it back: an equal timeline. Errors give line and column.
Result<TakeHead> read_take_head(std::string_view text);

} // namespace landfall::practice
