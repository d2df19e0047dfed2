#include "midi/smf.hpp"

#include <cstdlib>

/// Whatever is read can be written, and reads back as the same.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  namespace smf = landfall::midi::smf;
  const auto file = smf::read({data, size});
  if (!file) {
    if (file.error().reason.empty() || file.error().offset > size)
      std::abort();
    return 0;
  }
  const auto again = smf::read(smf::write(*file));
  if (!again || *again != *file)
    std::abort();
  return 0;
}
