#include "app/pack_files.hpp"

#include "app/data.hpp"
#include "theory/words.hpp"

#include <algorithm>
#include <unistd.h>

namespace landfall::app {
namespace {

namespace fs = std::filesystem;

/// Without a slash at the end.
fs::path plain(const fs::path& path) {
  auto normal = path.lexically_normal();
  return normal.has_filename() ? normal : normal.parent_path();
}

bool is_empty_folder(const fs::path& path) {
  std::error_code error;
  return fs::is_directory(path, error) && fs::is_empty(path, error);
}

std::string moved(const fs::path& from, const fs::path& to) {
  std::error_code error;
  fs::rename(from, to, error);
  return error ? to.string() + ": " + error.message() : "";
}

} // namespace

bool is_zip(const fs::path& output) {
  return lower_case(output.extension().string()) == ".zip";
}

std::string PackFiles::problem(const fs::path& asked, bool force) {
  const auto output = plain(asked);
  std::error_code ignored;
  const auto told = [&](const char* reason) { return asked.string() + ": " + reason; };
  if (is_zip(output) && !has_libzip())
    return no_libzip;
  if (!fs::exists(output, ignored) || (!is_zip(output) && is_empty_folder(output)))
    return "";
  if (is_zip(output) && fs::is_directory(output, ignored))
    return told("is a folder");
  if (!is_zip(output) && !fs::is_directory(output, ignored))
    return told("is a file, not a folder");
  return force ? "" : told("is there already; --force writes over it");
}

PackFiles::PackFiles(const fs::path& output) : output_(plain(output)), aside_(output_) {
  aside_ += ".new-" + std::to_string(::getpid());
}

PackFiles::~PackFiles() {
  std::error_code ignored;
  fs::remove_all(aside_, ignored);
}

std::string PackFiles::add(const std::string& name, const std::string& bytes) {
  const auto reason = write_file(aside_ / name, bytes);
  if (!reason.empty())
    return (output_ / name).string() + ": " + reason;
  names_.push_back(name);
  return "";
}

bool PackFiles::has(const std::string& name) const {
  return std::ranges::find(names_, name) != names_.end();
}

std::string PackFiles::finish_folder() {
  std::error_code error;
  if (!fs::exists(output_, error) || is_empty_folder(output_))
    return moved(aside_, output_);
  for (const auto& name : names_) {
    fs::create_directories((output_ / name).parent_path(), error);
    if (auto reason = moved(aside_ / name, output_ / name); !reason.empty())
      return reason;
  }
  return "";
}

std::string PackFiles::finish() {
  if (!is_zip(output_))
    return finish_folder();
  const auto zip = aside_ / output_.filename();
  const auto reason = write_zip(zip, output_.stem().string(), aside_, names_);
  return reason.empty() ? moved(zip, output_) : output_.string() + ": " + reason;
}

} // namespace landfall::app
