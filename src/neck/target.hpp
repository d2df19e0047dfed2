#pragma once

#include "neck/view.hpp"

namespace landfall::neck {

/// Which chord tones the player aims at: only they are lit.
struct Target {
  std::vector<int> numbers; ///< Degree numbers, 9 as 2 and 13 as 6; empty: every landing note.
  bool guide_line = false;  ///< Only the guide-tone line that moves least; numbers are left out.

  bool all() const { return numbers.empty() && !guide_line; }
  bool operator==(const Target&) const = default;
};

/// `all`, `roots`, `thirds`, `fifths`, `sevenths`, `guide tones`, `guide line`, or degree numbers
/// separated by blanks or commas: `3 7`.
Result<Target> parse_target(std::string_view text);

/// `thirds`, `guide line`, `3 7`: reads back as the same target.
std::string target_text(const Target& target);

/// Whether a degree of the chord is aimed at.
bool aims_at(const Target& target, theory::Degree degree);

/// Makes landing notes that are not aimed at notes of the set, or chord tones outside it. With a
/// guide line, `line` is its note here.
void aim(std::vector<NeckNote>& notes, const Target& target,
         const std::optional<NeckNote>& line = std::nullopt);

} // namespace landfall::neck
