#pragma once

#include "real/child.hpp"

#include <memory>

namespace landfall::real {

/// The built program in a home of its own, where nothing is remembered yet.
class Program {
public:
  /// Where it finds and keeps its files.
  Environment environment() const;
  const std::string& folder() const { return scratch_.path(); }
  std::string file(const std::string& name) const { return folder() + "/" + name; }

  /// Starts it with these arguments.
  std::unique_ptr<Child> start(Command arguments, const Environment& more = {}) const;
  /// Runs it to its end.
  Finished run(Command arguments, const Environment& more = {}) const;

private:
  Scratch scratch_;
};

} // namespace landfall::real
