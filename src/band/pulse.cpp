#include "band/pulse.hpp"

#include <algorithm>

namespace landfall::band {
namespace {

/// Where a second group of beats starts in the pattern: the third of four, the fourth of five.
int second_strong(int written) {
  if (written < 4)
    return 0;
  return written % 2 == 0 ? written / 2 : written / 2 + 1;
}

} // namespace

std::vector<int> beats_for(int written, int wanted) {
  std::vector<int> result;
  if (wanted % written == 0) {
    for (int i = 0; i < wanted; ++i)
      result.push_back(i % written);
    return result;
  }
  const int last = written - 1;
  const int off = std::min(1, last);
  for (int at = 0; at < wanted;) {
    const int left = wanted - at;
    const int size = left == 5 || left == 3 ? 3 : std::min(left, 2);
    result.push_back(at == 0 ? 0 : second_strong(written));
    for (int i = 1; i < size; ++i)
      result.push_back(off);
    at += size;
  }
  if (wanted > 1)
    result.back() = last;
  return result;
}

} // namespace landfall::band
