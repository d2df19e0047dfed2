// Set lists from arbitrary bytes: a clear error, or a list that is written and read again.

#include "practice/set_list.hpp"

#include <cstdint>
#include <cstdlib>

using namespace landfall;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto list = practice::read_set_list({reinterpret_cast<const char*>(data), size});
  if (!list) {
    if (list.error().reason.empty() || list.error().line < 1 || list.error().column < 1)
      std::abort();
    return 0;
  }
  const auto again = practice::read_set_list(as_text(*list));
  if (!again || !(*again == *list))
    std::abort();
  return 0;
}
