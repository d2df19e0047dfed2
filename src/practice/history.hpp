#pragma once

#include "ear/verdict.hpp"
#include "neck/position.hpp"
#include "theory/key.hpp"
#include "theory/note_set.hpp"
#include "time/tempo.hpp"

#include <chrono>
#include <map>
#include <span>
#include <string>
#include <tuple>
#include <vector>

/// What was practised: choruses as they are kept, and what they add up to.
namespace landfall::practice {

/// A moment of the calendar, whole seconds, UTC.
using Instant = std::chrono::sys_seconds;
using Seconds = std::chrono::duration<double>;
using Minutes = std::chrono::duration<double, std::ratio<60>>;

/// What is practised apart from everything else: a key in one place with one note set.
struct Cell {
  theory::Key key;
  std::string
      place;       ///< `E` for a shape; `fret 5`, or on a keyboard `from 60`, where there is none.
  std::string set; ///< A note set by name.

  bool operator==(const Cell&) const = default;
};
bool operator<(const Cell& a, const Cell& b);

/// `A, E shape, major pentatonic`; `Em, fret 5, blues`.
std::string cell_words(const Cell& cell);
/// `E shape`, `fret 5`.
std::string place_words(const std::string& place);

/// How a cell names the place where a hand is, and what asks for it again (nothing for a text that
/// names none).
std::string place_name(const neck::Instrument& instrument, const neck::Position& home);
neck::PlaceRequest place_request(const std::string& place);

/// One change of a chorus, as it is kept.
struct KeptChange {
  int bar = 1;
  double beat = 1.0;
  std::string chord;
  ear::Verdict verdict = ear::Verdict::rest;
  std::optional<theory::Degree> degree; ///< Of the note landed on.
  bool own_word = false;                ///< The player's own, not heard.

  bool operator==(const KeptChange&) const = default;
};

/// A chorus, or the part of it that was played.
struct ChorusRecord {
  Instant when; ///< Its end.
  Cell cell;
  theory::Over over = theory::Over::chord;
  std::string song; ///< As songs are named to be loaded.
  Tempo tempo;
  std::string target; ///< As neck::target_text; empty for every landing note.
  Seconds length{};
  ear::Summary summary;
  int own_words = 0;               ///< How many of its verdicts are the player's own.
  std::vector<KeptChange> changes; ///< Empty where only sums were read.
};

/// The kept form of the ear's verdicts, with their sums.
void fill_in(ChorusRecord& record, std::span<const ear::JudgedChange> changes,
             const ear::Summary& summary);

/// How often something was played at, and landed. Rests are left out: they are no error.
struct Landings {
  int played = 0;
  int landed = 0;

  void add(const ear::Summary& summary);
  bool operator==(const Landings&) const = default;
};

struct CellHistory {
  Cell cell;
  theory::Over over = theory::Over::chord; ///< As it was played last.
  std::string song;                        ///< Played last.
  Tempo tempo;                             ///< Played last.
  int choruses = 0;
  Minutes length{};
  Landings landings;
  /// Of late: each chorus counts 0.9 of the one after it, and two changes are taken for granted,
  /// one of them landed; so 0 and 1 are never reached.
  double recent_rate = 0.5;
  Instant last;
};

/// A day, or a week that begins on a Monday.
struct Span {
  std::chrono::sys_days from;
  Minutes length{};
  Landings landings;
};

/// Everything added up.
struct History {
  int choruses = 0;
  Minutes length{};
  std::vector<CellHistory> cells;      ///< By key, place, set.
  std::map<int, ear::Count> by_degree; ///< By the number of the degree landed on.
  std::vector<Span> days;              ///< Those on which something was played.
  std::vector<Span> weeks;             ///< The same by weeks.

  bool empty() const { return choruses == 0; }
  /// All landings of all cells.
  Landings landings() const;
  const CellHistory* find(const Cell& cell) const;
};

/// Adds up records in any order. Days are those of a clock that is `east` of UTC.
History history_of(std::span<const ChorusRecord> records, std::chrono::minutes east = {});

} // namespace landfall::practice
