#include "app/pack_files.hpp"

#include <zip.h>

namespace landfall::app {
namespace {

/// Adds one file; it is read when the archive is closed.
bool add(zip_t* archive, const std::filesystem::path& file, const std::string& name) {
  auto* source = zip_source_file(archive, file.c_str(), 0, -1);
  if (source == nullptr)
    return false;
  if (zip_file_add(archive, name.c_str(), source, ZIP_FL_ENC_UTF_8) >= 0)
    return true;
  zip_source_free(source);
  return false;
}

} // namespace

bool has_libzip() {
  return true;
}

std::string write_zip(const std::filesystem::path& zip, const std::string& top,
                      const std::filesystem::path& folder, const std::vector<std::string>& names) {
  int code = 0;
  auto* archive = zip_open(zip.c_str(), ZIP_CREATE | ZIP_EXCL, &code);
  if (archive == nullptr) {
    zip_error_t error;
    zip_error_init_with_code(&error, code);
    std::string reason = zip_error_strerror(&error);
    zip_error_fini(&error);
    return reason;
  }
  bool all = true;
  for (const auto& name : names)
    all = all && add(archive, folder / name, std::string(top).append("/").append(name));
  if (all && zip_close(archive) == 0)
    return "";
  std::string reason = zip_strerror(archive);
  zip_discard(archive);
  return reason;
}

} // namespace landfall::app
