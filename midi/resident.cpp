#include "midi/resident.hpp"

#include <array>
#include <cstdint>
#include <sys/mman.h>

#ifdef __linux__
#include <link.h>
#endif

namespace landfall::midi {
namespace {

constexpr std::size_t stack_bytes = 128 * 1024;
constexpr std::size_t smallest_page = 4096;

#ifdef __linux__
/// If the object's code holds the byte.
bool keep_code_around(const char* byte, const dl_phdr_info& object) {
  const auto address = reinterpret_cast<std::uintptr_t>(byte);
  for (int i = 0; i < object.dlpi_phnum; ++i) {
    const auto& part = object.dlpi_phdr[i];
    const auto offset = address - (object.dlpi_addr + part.p_vaddr);
    if (part.p_type == PT_LOAD && (part.p_flags & PF_X) != 0 && offset < part.p_memsz)
      return keep_resident(byte - offset, part.p_memsz);
  }
  return false;
}
#endif

} // namespace

bool keep_resident(const void* from, std::size_t bytes) noexcept {
  return mlock(from, bytes) == 0;
}

[[gnu::noinline]] bool keep_stack_resident() noexcept {
  std::array<char, stack_bytes> stack; // NOLINT(cppcoreguidelines-pro-type-member-init)
  volatile char* const bottom = stack.data();
  for (std::size_t i = 0; i < stack.size(); i += smallest_page)
    bottom[i] = 0;
  return keep_resident(stack.data(), stack.size());
}

bool keep_code_resident() noexcept {
#ifdef __linux__
  const auto visit = [](dl_phdr_info* object, std::size_t, void*) {
    return keep_code_around(reinterpret_cast<const char*>(&keep_code_resident), *object) ? 1 : 0;
  };
  return dl_iterate_phdr(visit, nullptr) != 0;
#else
  return false;
#endif
}

} // namespace landfall::midi
