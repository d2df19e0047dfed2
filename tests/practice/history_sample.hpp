#pragma once

#include "practice/history.hpp"

namespace landfall::test {

/// A chorus in which `landed` of `played` changes were landed, all on one degree.
inline practice::ChorusRecord chorus(const practice::Cell& cell, practice::Instant when, int landed,
                                     int played, int degree = 3) {
  practice::ChorusRecord record;
  record.when = when;
  record.cell = cell;
  record.song = "quay-lamps";
  record.tempo = tempo_from_bpm(84);
  record.length = practice::Seconds{30};
  record.summary.changes = played;
  record.summary.landed = landed;
  record.summary.off = played - landed;
  record.summary.by_degree[degree].landed = landed;
  return record;
}

/// Noon of a day of March 2026.
inline practice::Instant noon(int day) {
  using namespace std::chrono;
  return sys_days{year{2026} / 3 / 1} + days{day - 1} + hours{12};
}

inline practice::Cell cell(const char* key, const char* place = "E",
                           const char* set = "major pentatonic") {
  return {*theory::parse_key(key), place, set};
}

} // namespace landfall::test
