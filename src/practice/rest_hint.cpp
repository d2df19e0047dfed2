#include "practice/rest_hint.hpp"

namespace landfall::practice {

bool RestHint::is_due(bool playing, Nanoseconds now) {
  if (since_ && now - last_ >= pause) {
    since_.reset();
    said_ = false;
  }
  if (!playing)
    return false;
  if (!since_)
    since_ = now;
  last_ = now;
  if (said_ || now - *since_ < playing_for)
    return false;
  return said_ = true;
}

} // namespace landfall::practice
