#pragma once

#include "practice/fading.hpp"
#include "practice/history.hpp"
#include "theory/result.hpp"

#include <filesystem>
#include <memory>

struct sqlite3;

namespace landfall::app {

/// Whether this build has SQLite. Without it every store fails to open, with a line that says so.
bool keeps_history();

/// The history of one player in an SQLite file (WAL; migrated by `user_version`). Every change is
/// a transaction of its own, which survives the end of the process at any moment. One thread at a
/// time. Errors are one line without the path.
class HistoryStore {
public:
  /// Opens, makes or migrates the file. A file that is no history, or one of a newer program, is
  /// left as it is.
  static Result<HistoryStore, std::string> open(const std::filesystem::path& file);

  /// Whether a file is there that SQLite can't read as a database, or whose content is damaged. Not
  /// where it is merely in use, out of reach or of a newer program.
  static bool is_damaged(const std::filesystem::path& file);

  /// Empty, or the reason for a failure, after which nothing of it is kept.
  std::string add(const practice::ChorusRecord& record);
  std::string keep(const practice::Fading& fading);

  /// All choruses, oldest first, with their sums but without their changes.
  Result<std::vector<practice::ChorusRecord>, std::string> choruses() const;
  /// Every change of a chorus that was kept, by its place in choruses().
  Result<std::vector<practice::KeptChange>, std::string> changes(std::size_t chorus) const;
  Result<practice::Fading, std::string> fading() const;

  /// Empty if the whole file is sound, else what is wrong with it.
  std::string check() const;

private:
  struct Close {
    void operator()(sqlite3* database) const;
  };
  explicit HistoryStore(sqlite3* database) : database_(database) {}

  std::unique_ptr<sqlite3, Close> database_;
};

} // namespace landfall::app
