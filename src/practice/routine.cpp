#include "practice/routine.hpp"

#include <cassert>

namespace landfall::practice {

std::vector<RoutinePart> usual_routine() {
  return {{RoutineKind::weak, std::chrono::minutes{5}},
          {RoutineKind::jam, std::chrono::minutes{5}}};
}

std::optional<RoutineKind> routine_kind(const std::string& word) {
  if (word == "weak")
    return RoutineKind::weak;
  if (word == "jam")
    return RoutineKind::jam;
  return std::nullopt;
}

std::string routine_word(RoutineKind kind) {
  return kind == RoutineKind::weak ? "weak" : "jam";
}

Routine::Routine(std::vector<RoutinePart> parts, Nanoseconds now)
    : parts_(std::move(parts)), due_(now) {
  assert(!parts_.empty());
}

std::optional<Routine::Turn> Routine::next(Nanoseconds now) {
  if (over_ || now < due_)
    return std::nullopt;
  if (part_ == parts_.size()) {
    over_ = true;
    return Turn{};
  }
  due_ = now + parts_[part_].length;
  return Turn{parts_[part_++]};
}

} // namespace landfall::practice
