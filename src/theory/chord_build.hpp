#pragma once

#include "theory/chord.hpp"

#include <set>

namespace landfall::theory {

/// What a suffix says, mark by mark, before it is known what chord that makes.
struct ChordMarks {
  enum class Third { major, minor, none };
  enum class Base { plain, diminished, half_diminished, augmented };

  Third third = Third::major;
  Base base = Base::plain;
  bool major_seventh = false; ///< maj, Δ, M before a number, or Δ alone
  bool power = false;
  bool sus2 = false;
  bool sus4 = false;
  bool altered = false;
  int number = 0; ///< 0, 6, 7, 9, 11 or 13
  bool six_nine = false;
  std::set<Degree> alterations; ///< b5 #5 b9 #9 #11 b13 b6
  std::set<Degree> added;
  std::set<int> omitted;
};

/// The degrees that the marks make, sorted by number.
std::vector<Degree> degrees_of(const ChordMarks& marks);

/// The program's one spelling of the marks.
std::string suffix_of(const ChordMarks& marks);

} // namespace landfall::theory
