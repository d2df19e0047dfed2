#include "app/data.hpp"

#include "theory/words.hpp"

#include <algorithm>
#include <cctype>
#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <fstream>
#include <system_error>
#include <unistd.h>

namespace landfall::app {
namespace fs = std::filesystem;
namespace {

std::optional<fs::path> environment(const char* name) {
  const char* value = std::getenv(name);
  if (value == nullptr || *value == '\0')
    return std::nullopt;
  return fs::path(value);
}

bool is_data(const fs::path& folder) {
  std::error_code ignored;
  return fs::is_directory(folder / "songs", ignored);
}

fs::path xdg(const char* variable, const char* under_home) {
  if (const auto folder = environment(variable); folder && folder->is_absolute())
    return *folder / "landfall";
  return environment("HOME").value_or(fs::temp_directory_path()) / under_home / "landfall";
}

std::string write_into(const fs::path& path, const std::string& bytes) {
  errno = 0;
  std::ofstream out(path, std::ios::binary);
  out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  out.close();
  if (out)
    return "";
  return errno != 0 ? std::strerror(errno) : "cannot be written";
}

} // namespace

std::optional<fs::path> data_folder() {
  if (const auto named = environment("LANDFALL_DATA"))
    return named;
  std::error_code error;
  const auto executable = fs::read_symlink("/proc/self/exe", error);
  if (!error)
    if (const auto beside = executable.parent_path().parent_path() / "share" / "landfall";
        is_data(beside))
      return beside;
  if (const fs::path source = LANDFALL_SOURCE_DIR; is_data(source))
    return source;
  return std::nullopt;
}

fs::path songs_folder() {
  const auto folder = data_folder();
  return folder ? *folder / "songs" : fs::path();
}

fs::path fonts_folder() {
  const auto folder = data_folder();
  if (!folder)
    return {};
  std::error_code ignored;
  const auto installed = *folder / "fonts";
  return fs::is_directory(installed, ignored) ? installed : *folder / "assets" / "fonts";
}

fs::path config_folder() {
  return xdg("XDG_CONFIG_HOME", ".config");
}
fs::path user_data_folder() {
  return xdg("XDG_DATA_HOME", ".local/share");
}

std::string hyphenated_name(const std::string& title, const std::string& nameless) {
  std::string made;
  for (const char c : lower_case(title))
    if (std::isalnum(static_cast<unsigned char>(c)) != 0)
      made += c;
    else if (!made.empty() && made.back() != '-')
      made += '-';
  while (made.ends_with('-'))
    made.pop_back();
  return made.empty() ? nameless : made;
}

std::vector<fs::path> files_in(const fs::path& folder, const std::string& ending) {
  std::vector<fs::path> found;
  std::error_code error;
  for (fs::directory_iterator entry(folder, error), end; !error && entry != end;
       entry.increment(error))
    if (entry->path().extension() == ending)
      found.push_back(entry->path());
  std::sort(found.begin(), found.end());
  return found;
}

FileText read_file(const fs::path& path, std::size_t limit) {
  std::error_code error;
  if (fs::is_directory(path, error))
    return {"", "is a folder, not a file"};
  std::ifstream in(path, std::ios::binary);
  if (!in)
    return {"", errno != 0 ? std::strerror(errno) : "cannot be opened"};
  std::string text;
  char block[65536];
  while (in.read(block, sizeof block), in.gcount() > 0) {
    text.append(block, static_cast<std::size_t>(in.gcount()));
    if (text.size() > limit)
      return {"", "is larger than " + std::to_string(limit >> 20U) + " MB"};
  }
  return {std::move(text), in.bad() ? "cannot be read" : ""};
}

std::string write_file(const fs::path& path, const std::string& bytes) {
  std::error_code error;
  const auto kind = fs::status(path, error).type();
  if (kind == fs::file_type::directory)
    return "is a folder";
  if (kind != fs::file_type::not_found && kind != fs::file_type::regular)
    return write_into(path, bytes); // a device or a pipe
  if (path.has_parent_path())
    fs::create_directories(path.parent_path(), error);
  auto fresh = path;
  fresh += ".new-" + std::to_string(::getpid());
  if (const auto reason = write_into(fresh, bytes); !reason.empty()) {
    fs::remove(fresh, error);
    return reason;
  }
  fs::rename(fresh, path, error);
  if (!error)
    return "";
  const auto reason = error.message();
  fs::remove(fresh, error);
  return reason;
}

} // namespace landfall::app
