#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace landfall::app {

/// What a build without libzip says.
inline constexpr const char* no_libzip =
    "built without libzip: no zip files are written; name a folder instead";

/// Files that are written aside and come to their place together, as a folder or a zip file. What
/// has not come there is gone at the end.
class PackFiles {
public:
  /// `output` is a zip file if it ends in `.zip`, else a folder. The error is one line, also where
  /// it is there already and is not to be written over.
  static std::string problem(const std::filesystem::path& output, bool force);

  /// There is no problem() with `output`.
  explicit PackFiles(const std::filesystem::path& output);
  ~PackFiles();
  PackFiles(const PackFiles&) = delete;
  PackFiles& operator=(const PackFiles&) = delete;

  /// Adds a file; `name` has folders before it with `/`. The reason for a failure, else an empty
  /// text.
  std::string add(const std::string& name, const std::string& bytes);
  bool has(const std::string& name) const;

  /// Brings all to their place. In a folder that is there only files of the same names are
  /// replaced.
  std::string finish();

private:
  std::string finish_folder();

  std::filesystem::path output_, aside_;
  std::vector<std::string> names_;
};

bool is_zip(const std::filesystem::path& output);

/// Whether this build writes zip files.
bool has_libzip();

/// Writes `names`, files in `folder`, into a new zip file, below a folder `top` within it. The
/// reason for a failure, else an empty text; then no file is left.
std::string write_zip(const std::filesystem::path& zip, const std::string& top,
                      const std::filesystem::path& folder, const std::vector<std::string>& names);

} // namespace landfall::app
