#pragma once

#include "band/event.hpp"
#include "neck/target.hpp"
#include "practice/arrangement.hpp"
#include "practice/moves.hpp"
#include "theory/note_set.hpp"
#include "time/tempo.hpp"

#include <array>
#include <optional>
#include <string>
#include <variant>

namespace landfall::practice {

/// Bars of the form, from 1, both included.
struct BarRange {
  int first = 1;
  int last = 1;

  constexpr bool operator==(const BarRange&) const = default;
};

/// All that the player chooses and may change while it plays.
struct Choice {
  theory::Key key;
  neck::PlaceRequest place;
  theory::NoteSet set;
  theory::Over over = theory::Over::chord;
  neck::Target target;
  Tempo tempo;      ///< Of the song's head; written changes keep their proportion to it.
  std::string feel; ///< "" leaves the song its own.
  std::optional<BarRange> loop;
  std::array<bool, band::all_parts.size()> muted{}; ///< By Part.
  double intensity = 0.35;                          ///< Quiet 0 to full 1.

  KeyMoves key_moves;
  TempoMoves tempo_moves;
  Arrangement arrangement;
  int count_in_bars = 1; ///< 0 for none.

  bool operator==(const Choice&) const = default;
};

// Each command sets one of these.
struct SetKey {
  theory::Key key;
};
struct SetPlace {
  neck::PlaceRequest place;
};
struct SetNotes {
  theory::NoteSet set;
  theory::Over over = theory::Over::chord;
};
struct SetTarget {
  neck::Target target;
};
struct SetTempo {
  Tempo tempo;
};
struct SetFeel {
  std::string feel;
};
struct SetLoop {
  std::optional<BarRange> loop;
};
struct SetMuted {
  band::Part part = band::Part::drums;
  bool muted = false;
};
struct SetIntensity {
  double intensity = 0.35;
};
struct SetArrangement {
  Arrangement arrangement;
};
/// Holds from the next start on.
struct SetCountIn {
  int bars = 1;
};
/// Counted from the chorus in which it takes hold.
struct SetKeyMoves {
  KeyMoves moves;
};
/// The tempo is that where they begin, from now on; a SetTempo ends them.
struct SetTempoMoves {
  TempoMoves moves;
};
/// A step of the tempo's moves; they go on.
struct MoveTempo {
  Tempo tempo;
};
/// The band closes the song from the next bar line on, in two bars, and the performance is over.
struct End {};
using Command = std::variant<SetKey, SetPlace, SetNotes, SetTarget, SetTempo, SetFeel, SetLoop,
                             SetMuted, SetIntensity, SetKeyMoves, SetTempoMoves, MoveTempo,
                             SetArrangement, SetCountIn, End>;

/// The choice after a command.
Choice with(Choice choice, const Command& command);

/// Whether the bars that follow are other ones for it.
bool replans(const Command& command);

/// Whether the same bars are played in another way.
bool rearranges(const Command& command);

/// Where a command takes hold: at once, on the next beat, or at the next bar line.
enum class Boundary : std::uint8_t { now, beat, bar };
Boundary boundary(const Command& command);

} // namespace landfall::practice
