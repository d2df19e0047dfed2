#include "theory/chord_build.hpp"

#include <algorithm>

namespace landfall::theory {
namespace {

using Third = ChordMarks::Third;
using Base = ChordMarks::Base;

bool low_fifth(const ChordMarks& marks) {
  return marks.base == Base::diminished || marks.base == Base::half_diminished;
}

void add_third(const ChordMarks& marks, std::set<Degree>& set) {
  if (marks.sus2)
    set.insert({2, 0});
  if (marks.sus4)
    set.insert({4, 0});
  if (!marks.sus2 && !marks.sus4 && !marks.power)
    set.insert({3, marks.third == Third::minor ? -1 : 0});
}

void add_fifth(const ChordMarks& marks, std::set<Degree>& set) {
  const bool replaced = marks.alterations.contains({5, -1}) || marks.alterations.contains({5, 1});
  if (replaced || marks.altered)
    return;
  if (marks.base == Base::augmented)
    set.insert({5, 1});
  else
    set.insert({5, low_fifth(marks) ? -1 : 0});
}

void add_seventh(const ChordMarks& marks, std::set<Degree>& set) {
  if (marks.number < 7)
    return;
  if (marks.major_seventh)
    set.insert({7, 0});
  else
    set.insert({7, marks.base == Base::diminished ? -2 : -1});
}

bool alters(const ChordMarks& marks, int number) {
  return std::any_of(marks.alterations.begin(), marks.alterations.end(),
                     [&](Degree degree) { return degree.number == number; });
}

void add_extensions(const ChordMarks& marks, std::set<Degree>& set) {
  const bool minor = marks.third == Third::minor;
  if (marks.number >= 9 && !alters(marks, 9))
    set.insert({9, 0});
  if ((marks.number == 11 || (marks.number == 13 && minor)) && !alters(marks, 11))
    set.insert({11, 0});
  if (marks.number == 13 && !alters(marks, 13))
    set.insert({13, 0});
  if (marks.number == 6)
    set.insert({6, 0});
  if (marks.six_nine)
    set.insert({9, 0});
  if (marks.altered)
    set.insert({{9, -1}, {9, 1}, {13, -1}});
}

std::string triad_suffix(const ChordMarks& marks) {
  if (marks.power)
    return "5";
  if (marks.base == Base::diminished)
    return "dim";
  if (marks.base == Base::half_diminished)
    return "m";
  if (marks.base == Base::augmented && marks.number == 0)
    return "+";
  return marks.third == Third::minor ? "m" : "";
}

std::string number_suffix(const ChordMarks& marks) {
  if (marks.six_nine)
    return "6/9";
  if (marks.number == 0)
    return "";
  const auto number = std::to_string(marks.number);
  if (!marks.major_seventh || marks.number == 6)
    return number;
  const bool after_letter = marks.third == Third::minor;
  return (after_letter ? "Maj" : "maj") + number;
}

} // namespace

std::vector<Degree> degrees_of(const ChordMarks& marks) {
  std::set<Degree> set{{1, 0}};
  add_third(marks, set);
  add_fifth(marks, set);
  add_seventh(marks, set);
  add_extensions(marks, set);
  set.insert(marks.alterations.begin(), marks.alterations.end());
  set.insert(marks.added.begin(), marks.added.end());
  std::erase_if(set, [&](Degree degree) { return marks.omitted.contains(degree.number); });
  return {set.begin(), set.end()};
}

std::string suffix_of(const ChordMarks& marks) {
  if (marks.altered)
    return triad_suffix(marks) + "7alt";
  auto text = triad_suffix(marks) + number_suffix(marks);
  if (marks.sus2)
    text += "sus2";
  if (marks.sus4)
    text += "sus4";
  if (marks.base == Base::half_diminished)
    text += "b5";
  if (marks.base == Base::augmented && marks.number != 0)
    text += "#5";
  for (const auto degree : marks.alterations)
    text += text.empty() ? "(" + ascii(degree) + ")" : ascii(degree);
  for (const auto degree : marks.added)
    text += "add" + ascii(degree);
  for (const int number : marks.omitted)
    text += "no" + std::to_string(number);
  return text;
}

} // namespace landfall::theory
