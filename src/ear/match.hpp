#pragma once

#include "ear/heard.hpp"
#include "time/tempo.hpp"

#include <optional>
#include <span>
#include <vector>

/// What of a call an answer has, note by note.
namespace landfall::ear {

/// A note that is asked for.
struct AskedNote {
  Ticks at;
  Ticks length; ///< Above 0.
  int midi = 60;
  double bend_cents = 0.0; ///< The pitch to be bent to, from `midi`.
};

/// Which octaves an answer may be in.
enum class Octaves : std::uint8_t {
  same,  ///< The call's own.
  whole, ///< Any, but the same for all its notes.
  any,   ///< Each note may be in another.
};

struct MatchSettings {
  Tempo tempo; ///< In which milliseconds are counted.
  Octaves octaves = Octaves::same;
  bool pitches = true; ///< False: only the rhythm is asked for.
  double near_cents = 35.0;
  double close_ms = 35.0;     ///< A note no further off than this is neither behind nor ahead.
  Ticks furthest = quarter;   ///< A note that lies further from where it belongs is another one.
  int ghost_velocity = 24;    ///< A note softer than this ...
  double ghost_ms = 60.0;     ///< ... and shorter is a ghost: no extra, but it may match.
  std::optional<Ticks> until; ///< Up to when the answer has been heard; none: all of it.
};

enum class Fate : std::uint8_t {
  matched,
  wrong,   ///< There was a note, of another pitch.
  missing, ///< There was none.
  waiting, ///< It may still come.
};

struct MatchedNote {
  Fate fate = Fate::missing;
  std::optional<std::size_t> heard; ///< Index of the note; none for missing and waiting.
  Ticks at;                         ///< Where it was heard, or where its bend arrived.
  double cents_off = 0.0;           ///< From the pitch that was asked for, octaves that are
                                    ///< allowed left out; 0 when only the rhythm is asked for.
  double behind_ms = 0.0; ///< From where it belongs in this answer: its delay and tempo left out.
  int octaves = 0;        ///< That it lies higher.
  bool bent = false;      ///< The pitch was reached by a bend.
};

struct Match {
  std::vector<MatchedNote> notes;  ///< One for each that was asked for.
  std::vector<std::size_t> extras; ///< Indices of notes that belong to none, ghosts left out.
  double delay_ms = 0.0;           ///< Of the whole answer; 0 where its notes have none in common.
  double slower = 1.0;    ///< How many times as slow as the call; 1 where that is not sure.
  double close_ms = 35.0; ///< As it was set.

  int count(Fate fate) const;
  /// Matched notes that are behind (ahead) by more than `close_ms`.
  int behind() const;
  int ahead() const;
};

/// Aligns an answer with its call: the cheapest way, by dynamic programming over pitch and onset,
/// to take each note as the one that was asked for, as another in its place, as missing, or as
/// extra. Pure: live and from a take the same events give the same. `asked` and `heard` rise by
/// onset, and `heard` holds nothing but the answer. Time and memory go with asked times heard.
Match match(std::span<const AskedNote> asked, std::span<const HeardNote> heard,
            const MatchSettings& settings);

} // namespace landfall::ear
