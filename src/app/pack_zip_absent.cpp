#include "app/pack_files.hpp"

namespace landfall::app {

bool has_libzip() {
  return false;
}

std::string write_zip(const std::filesystem::path&, const std::string&,
                      const std::filesystem::path&, const std::vector<std::string>&) {
  return no_libzip;
}

} // namespace landfall::app
