// The text of takes from arbitrary bytes: a clear error, or a timeline that is written and read
// again.

#include "practice/take.hpp"

#include <cstdint>
#include <cstdlib>

using namespace landfall;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto head = practice::read_take_head({reinterpret_cast<const char*>(data), size});
  if (!head) {
    if (head.error().reason.empty() || head.error().line < 1 || head.error().column < 1)
      std::abort();
    return 0;
  }
  const auto text = as_text(*head);
  const auto again = practice::read_take_head(text);
  if (!again || as_text(*again) != text)
    std::abort();
  return 0;
}
