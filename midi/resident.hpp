#pragma once

#include <cstddef>

/// Memory that a real-time thread uses must be there when it is used: a page that has to be fetched
/// first can take milliseconds. All of this goes by what the system allows (RLIMIT_MEMLOCK) and
/// says nothing where it allows less. What is kept stays so until it is given back to the system.
namespace landfall::midi {

/// Fetches these bytes and locks them in memory. False where that is not allowed. Any thread; not
/// real-time safe.
bool keep_resident(const void* from, std::size_t bytes) noexcept;

/// The same for the calling thread's stack from here on, as deep as a sender goes. Touches it in
/// any case.
bool keep_stack_resident() noexcept;

/// The same for the program's own code; libraries are left as they are. Costs next to
/// nothing when it is there already.
bool keep_code_resident() noexcept;

} // namespace landfall::midi
