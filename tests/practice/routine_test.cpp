#include "practice/routine.hpp"

#include <doctest/doctest.h>

using namespace landfall;
using namespace landfall::practice;

TEST_CASE("a routine goes through its parts by itself, and ends once") {
  const std::vector parts{RoutinePart{RoutineKind::weak, std::chrono::minutes{5}},
                          RoutinePart{RoutineKind::jam, std::chrono::minutes{2}},
                          RoutinePart{RoutineKind::weak, std::chrono::minutes{1}}};
  Routine routine(parts, std::chrono::hours{1});
  std::string heard;
  for (int second = 0; second < 600; ++second)
    if (const auto turn = routine.next(std::chrono::hours{1} + std::chrono::seconds{second}))
      heard += (turn->part ? routine_word(turn->part->kind) : "end") + "@" +
               std::to_string(second) + " ";
  CHECK(heard == "weak@0 jam@300 weak@420 end@480 ");
  CHECK(routine.over());
}

TEST_CASE("kinds are read back from their words") {
  for (const auto& part : usual_routine())
    CHECK(routine_kind(routine_word(part.kind)) == part.kind);
  CHECK_FALSE(routine_kind("nap"));
}
