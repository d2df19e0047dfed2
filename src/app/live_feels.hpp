#pragma once

#include "app/library.hpp"

#include <mutex>

namespace landfall::app {

/// The feels as their files are now: read anew when one changes. A file that can no longer be read
/// leaves the feel as it was. All functions may be called by any thread but a real-time one; what
/// find() returned stays as it is for as long as this lives.
class LiveFeels final : public band::FeelBook {
public:
  /// `first` is what was read already; never null.
  explicit LiveFeels(std::shared_ptr<const FeelFolder> first);

  const band::Feel* find(std::string_view name) const override;
  std::vector<std::string> names() const;

  /// Looks at the files. Empty if nothing has changed, else one line: what was read, or why not.
  std::string refresh();

private:
  struct Stamp {
    std::filesystem::path path;
    std::filesystem::file_time_type written;
    std::uintmax_t size = 0;

    bool operator==(const Stamp&) const = default;
  };
  static std::vector<Stamp> stamps();

  mutable std::mutex mutex_;
  std::vector<std::shared_ptr<const FeelFolder>> read_; ///< The latest last; not empty.
  std::vector<Stamp> stamps_;
};

} // namespace landfall::app
