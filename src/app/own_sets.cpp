#include "app/own_sets.hpp"

#include "app/data.hpp"
#include "app/library.hpp"

namespace landfall::app {
namespace {

struct Loaded {
  theory::SetBook book;
  std::string problem;
};

const Loaded& loaded() {
  static const Loaded once = [] {
    Loaded result;
    const auto path = config_folder() / "sets.txt";
    std::error_code ignored;
    if (!std::filesystem::exists(path, ignored))
      return result;
    const auto file = read_file(path, 1U << 20U);
    if (!file.error.empty())
      result.problem = path.string() + ": " + file.error;
    else if (auto book = theory::parse_set_book(file.text))
      result.book = std::move(*book);
    else
      result.problem = located(path.string(), book.error());
    return result;
  }();
  return once;
}

} // namespace

const theory::SetBook& own_sets() {
  return loaded().book;
}

std::string own_sets_problem() {
  return loaded().problem;
}

} // namespace landfall::app
