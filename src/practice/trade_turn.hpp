#pragma once

#include "ear/match.hpp"
#include "ear/verdict.hpp"
#include "trade/call_answer.hpp"
#include "trade/turns.hpp"

#include <span>
#include <string>

namespace landfall::practice {

/// One turn of a trade: who plays when, what is called, and what is asked for in answer.
struct TradeTurn {
  trade::Turn turn;
  trade::AnswerKind kind = trade::AnswerKind::echo;
  trade::Phrase call;  ///< From the call's first bar line.
  trade::Phrase asked; ///< From the answer's: what an echo is held against.

  bool operator==(const TradeTurn&) const = default;
};

/// The bars of a performance from the bar line `from` to `to`, as an empty phrase. The range must
/// be laid out and not empty.
trade::Phrase blank_over(const song::Performance& performance, Ticks from, Ticks to);

/// What was played in [from, to) as a phrase over `blank`, its bars from `from` on; the key's notes
/// as they were played, in time and in pitch, bends included.
trade::Phrase phrase_of(std::span<const ear::HeardNote> notes, trade::Phrase blank, Ticks from,
                        Ticks to);

/// The asked notes in performance ticks; none for a free answer.
std::vector<ear::AskedNote> asked_notes(const TradeTurn& turn);

/// How an answer was, or is so far.
struct TurnVerdict {
  std::vector<ear::HeardNote> answer; ///< What of it belongs to the turn.
  ear::Match match;                   ///< Indices are those of `answer`; empty for free answers.
  ear::Summary landings;              ///< Of changes within the answer's bars.
  bool answered = false;              ///< Anything was played at all.
  double share = 0.0;                 ///< What part was right, 0 to 1, of what is due.
  std::string words;                  ///< `11 of 12 notes, two of them behind`.
};

/// Judges a turn from all that was heard and judged around it. Pure: live and from a take the same
/// notes give the same verdict. `until` as in ear::MatchSettings. Milliseconds are counted in
/// `tempo`, the answer's.
TurnVerdict judge_turn(const TradeTurn& turn, std::span<const ear::HeardNote> notes,
                       std::span<const ear::JudgedChange> changes, Tempo tempo,
                       std::optional<Ticks> until = std::nullopt);

/// So long after a turn's end it is judged for good: its last change cannot be met any more.
inline constexpr Ticks judged_after = quarter * 4;

/// The verdict for good: what was heard before the turn's end and judged_after, whatever is known
/// of later. Live and from a take it is the same.
TurnVerdict final_verdict(const TradeTurn& turn, std::span<const ear::HeardNote> notes,
                          std::span<const ear::JudgedChange> changes, Tempo tempo);

} // namespace landfall::practice
