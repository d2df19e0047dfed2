#pragma once

#include "time/ticks.hpp"

#include <optional>
#include <string>
#include <vector>

namespace landfall::practice {

/// What a part of a routine is for.
enum class RoutineKind : std::uint8_t {
  weak, ///< What is proposed next.
  jam,  ///< The same place, anything goes.
};

struct RoutinePart {
  RoutineKind kind = RoutineKind::weak;
  std::chrono::minutes length{5};

  bool operator==(const RoutinePart&) const = default;
};

/// Five minutes of a weak cell, five of jamming.
std::vector<RoutinePart> usual_routine();

/// `weak`, `jam`; none for another word.
std::optional<RoutineKind> routine_kind(const std::string& word);
std::string routine_word(RoutineKind kind);

/// Goes through a routine by itself. Reads no clock.
class Routine {
public:
  /// What follows now.
  struct Turn {
    std::optional<RoutinePart> part; ///< None: the routine is over.
  };

  /// At least one part.
  Routine(std::vector<RoutinePart> parts, Nanoseconds now);

  /// The part that begins by `now`; none while one goes on. The first begins at once; the last
  /// answer is a turn without a part, once. `now` never falls.
  std::optional<Turn> next(Nanoseconds now);

  bool over() const { return over_; }

private:
  std::vector<RoutinePart> parts_;
  std::size_t part_ = 0; ///< The one that begins next.
  Nanoseconds due_;
  bool over_ = false;
};

} // namespace landfall::practice
