#pragma once

#include "theory/result.hpp"

#include <charconv>
#include <functional>
#include <string_view>

/// Plain text files of lines `name: value`, as every small format of ours has them: blank lines and
/// lines that begin with # say nothing; lines end in LF or CR LF; a byte order mark does not count.
namespace landfall {

/// A line, its parts without the blanks around them. Columns are from 1, in bytes.
struct NamedField {
  std::string_view name;
  std::string_view value; ///< May be empty.
  int line = 1;
  int name_column = 1;
  int value_column = 1;

  /// An error about the name, or about the value's character `at`, from 0.
  TextError bad_name(std::string reason) const;
  TextError bad_value(std::string reason, std::size_t at = 0) const;
};

/// Gives each line to `take` until it returns an error, which is the result. A line without a colon
/// or name is an error itself, as is one of more than 4096 bytes.
std::optional<TextError>
read_named_lines(std::string_view text,
                 const std::function<std::optional<TextError>(const NamedField&)>& take);

/// A whole number in a range, both ends included, or what was expected.
Result<int> whole_number(const NamedField& field, int low, int high);

/// `yes` or `no`.
Result<bool> yes_or_no(const NamedField& field);

} // namespace landfall
