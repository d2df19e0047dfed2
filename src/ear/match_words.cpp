#include "ear/match_words.hpp"

#include <array>
#include <cmath>

namespace landfall::ear {
namespace {

constexpr std::array intervals{
    "",      "half step",   "whole step", "minor third",   "third",   "fourth", "tritone",
    "fifth", "minor sixth", "sixth",      "minor seventh", "seventh", "octave"};
constexpr std::array numbers{"none",  "one",   "two",  "three", "four",   "five",  "six",
                             "seven", "eight", "nine", "ten",   "eleven", "twelve"};
constexpr double sure_delay_ms = 45.0;

std::string of_them(int some, int all, const char* what) {
  if (some == 0)
    return "";
  if (some == all)
    return all == 1 ? std::string(", ") + what : std::string(", all of them ") + what;
  return ", " + number_words(some) + " of them " + what;
}

std::string in_common(const Match& match) {
  std::string result;
  if (std::abs(match.delay_ms) >= sure_delay_ms)
    result += "; all of it " + std::to_string(std::lround(std::abs(match.delay_ms))) + " ms " +
              (match.delay_ms > 0 ? "behind" : "ahead");
  if (match.slower != 1.0)
    result += match.slower > 1.0 ? "; slower than the call" : "; faster than the call";
  return result;
}

} // namespace

std::string number_words(int number) {
  return number >= 0 && number < static_cast<int>(numbers.size())
             ? numbers[static_cast<std::size_t>(number)]
             : std::to_string(number);
}

std::string pitch_words(double cents_off) {
  const auto steps = std::lround(std::abs(cents_off) / 100.0);
  const std::string way = cents_off > 0 ? " high" : " low";
  if (std::abs(std::abs(cents_off) - 100.0 * static_cast<double>(steps)) > 35.0 || steps == 0)
    return std::to_string(std::lround(std::abs(cents_off))) + " cents" + way;
  if (steps < static_cast<long>(intervals.size()))
    return intervals[static_cast<std::size_t>(steps)] + way;
  return "more than an octave" + way;
}

std::string note_words(const MatchedNote& note, double close_ms) {
  if (note.fate == Fate::wrong)
    return pitch_words(note.cents_off);
  if (note.fate != Fate::matched || std::abs(note.behind_ms) <= close_ms)
    return "";
  return std::to_string(std::lround(std::abs(note.behind_ms))) + " ms " +
         (note.behind_ms > 0 ? "behind" : "ahead");
}

std::string summary_words(const Match& match) {
  const int all = static_cast<int>(match.notes.size()), right = match.count(Fate::matched);
  if (all == 0)
    return "";
  if (match.count(Fate::missing) + match.count(Fate::waiting) == all && match.extras.empty())
    return match.count(Fate::waiting) > 0 ? "nothing yet" : "no answer";
  std::string result =
      right == all && all > 1
          ? "all " + std::to_string(all) + " notes"
          : std::to_string(right) + " of " + std::to_string(all) + (all == 1 ? " note" : " notes");
  result += of_them(match.behind(), right, "behind");
  result += of_them(match.ahead(), right, "ahead");
  result += in_common(match);
  if (const auto more = static_cast<int>(match.extras.size()); more > 0)
    result += "; " + number_words(more) + (more == 1 ? " note more" : " notes more");
  return result;
}

} // namespace landfall::ear
