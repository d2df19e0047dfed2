#include "theory/set_book.hpp"

#include "theory/words.hpp"

#include <array>

namespace landfall::theory {
namespace {

constexpr std::size_t most_sets = 200;

struct Kind {
  std::string_view name;
  NoteSet FittingTable::*member;
};
constexpr std::array kinds{Kind{"major", &FittingTable::major},
                           Kind{"minor", &FittingTable::minor},
                           Kind{"dominant", &FittingTable::dominant},
                           Kind{"diminished", &FittingTable::diminished},
                           Kind{"half-diminished", &FittingTable::half_diminished},
                           Kind{"augmented", &FittingTable::augmented},
                           Kind{"suspended", &FittingTable::suspended}};

/// Reads one line into the book.
class Line {
public:
  Line(std::string_view text, int number, SetBook& book)
      : text_(text), number_(number), book_(book) {}

  std::optional<TextError> read() {
    const auto colon = text_.find(':');
    const auto head = lower_case(text_.substr(0, colon));
    const auto name = trimmed(head);
    if (colon == std::string_view::npos ||
        (!name.starts_with("set ") && !name.starts_with("over ")))
      return error("expected `set NAME: degrees` or `over KIND: set`", 0);
    const auto value = text_.substr(colon + 1);
    auto set = book_.find(trimmed(value));
    if (!set)
      return error(set.error().reason, colon + 1 + value.find_first_not_of(" \t"));
    const auto what = trimmed(name.substr(name.find(' ')));
    return name.starts_with("set ") ? define(what, std::move(*set)) : choose(what, *set);
  }

private:
  std::optional<TextError> define(std::string_view name, NoteSet set) {
    if (name.empty() || book_.own.size() >= most_sets)
      return error("expected the name of a set, and at most 200 of them", 0);
    if (set.kind != NoteSet::Kind::fixed)
      return error("a set of one's own is a list of degrees such as 1 2 b3 5", 0);
    set.name = std::string(name);
    book_.own.push_back(std::move(set));
    return std::nullopt;
  }

  std::optional<TextError> choose(std::string_view kind, const NoteSet& set) {
    if (set.kind == NoteSet::Kind::fitting)
      return error("expected a set other than fitting", 0);
    for (const auto& [name, member] : kinds)
      if (name == kind)
        return book_.fitting.*member = set, std::nullopt;
    return error("expected major, minor, dominant, diminished, half-diminished, augmented or "
                 "suspended after `over`",
                 0);
  }

  TextError error(std::string reason, std::size_t at) const {
    const auto column = at == std::string_view::npos ? text_.size() : at;
    return {std::move(reason), static_cast<int>(column) + 1, number_};
  }

  std::string_view text_;
  int number_;
  SetBook& book_;
};

} // namespace

Result<NoteSet> SetBook::find(std::string_view name) const {
  const auto wanted = lower_case(trimmed(name));
  for (const auto& set : own)
    if (set.name == wanted)
      return set;
  return parse_note_set(name);
}

Result<SetBook> parse_set_book(std::string_view text) {
  SetBook book;
  for (int number = 1; !text.empty(); ++number) {
    const auto end = text.find('\n');
    const auto line = text.substr(0, end);
    text = end == std::string_view::npos ? "" : text.substr(end + 1);
    if (trimmed(line).empty() || trimmed(line).front() == '#')
      continue;
    if (auto error = Line(line, number, book).read())
      return *error;
  }
  return book;
}

} // namespace landfall::theory
