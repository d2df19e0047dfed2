#pragma once

#include <dlfcn.h>

namespace landfall::midi {

/// A C function of a library that is loaded already, such as those that RtMidi brings in; null
/// where there is none of this name. Nothing checks that it is of this type.
template <typename Function> Function find_function(const char* name) {
  return reinterpret_cast<Function>(dlsym(RTLD_DEFAULT, name));
}

} // namespace landfall::midi
