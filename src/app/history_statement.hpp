#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <sqlite3.h>
#include <string>

namespace landfall::app {

/// What went wrong last, in one line.
inline std::string problem_of(sqlite3* database) {
  return sqlite3_errmsg(database);
}

/// One SQL statement with its parameters, counted from 1. A statement that cannot be prepared, or
/// fails in between, ends with step() and failed().
class Statement {
public:
  Statement(sqlite3* database, const char* sql) {
    sqlite3_stmt* made = nullptr;
    failed_ = sqlite3_prepare_v2(database, sql, -1, &made, nullptr) != SQLITE_OK;
    statement_.reset(made);
  }

  Statement& add(const std::string& text) {
    return noted(sqlite3_bind_text(statement_.get(), ++bound_, text.c_str(), -1, SQLITE_TRANSIENT));
  }
  Statement& add(std::int64_t number) {
    return noted(sqlite3_bind_int64(statement_.get(), ++bound_, number));
  }
  Statement& add(int number) { return add(std::int64_t{number}); }
  Statement& add(double number) {
    return noted(sqlite3_bind_double(statement_.get(), ++bound_, number));
  }
  template <typename T> Statement& add(const std::optional<T>& value) {
    return value ? add(*value) : noted(sqlite3_bind_null(statement_.get(), ++bound_));
  }

  /// Moves to the next row; false at the end or after a failure.
  bool step() {
    if (failed_)
      return false;
    const int code = sqlite3_step(statement_.get());
    failed_ = code != SQLITE_ROW && code != SQLITE_DONE;
    return code == SQLITE_ROW;
  }
  /// Runs it to its end, and makes it ready for other parameters.
  bool run() {
    while (step()) {
    }
    sqlite3_reset(statement_.get());
    bound_ = 0;
    return !failed_;
  }
  bool failed() const { return failed_; }

  // Of the present row, by column from 0.
  std::int64_t number(int column) const { return sqlite3_column_int64(statement_.get(), column); }
  int small(int column) const { return sqlite3_column_int(statement_.get(), column); }
  double real(int column) const { return sqlite3_column_double(statement_.get(), column); }
  std::optional<double> optional_real(int column) const {
    if (sqlite3_column_type(statement_.get(), column) == SQLITE_NULL)
      return std::nullopt;
    return real(column);
  }
  std::string text(int column) const {
    const void* bytes = sqlite3_column_blob(statement_.get(), column);
    const auto size = static_cast<std::size_t>(sqlite3_column_bytes(statement_.get(), column));
    return bytes == nullptr ? std::string() : std::string(static_cast<const char*>(bytes), size);
  }

private:
  struct Finalise {
    void operator()(sqlite3_stmt* statement) const { sqlite3_finalize(statement); }
  };
  Statement& noted(int code) {
    failed_ = failed_ || code != SQLITE_OK;
    return *this;
  }

  std::unique_ptr<sqlite3_stmt, Finalise> statement_;
  int bound_ = 0;
  bool failed_ = false;
};

} // namespace landfall::app
