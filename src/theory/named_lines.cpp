#include "theory/named_lines.hpp"

#include "theory/words.hpp"

#include <algorithm>

namespace landfall {
namespace {

constexpr std::size_t longest_line = 4096;

std::string_view without_mark(std::string_view text) {
  if (text.starts_with("\xEF\xBB\xBF"))
    text.remove_prefix(3);
  return text;
}

std::optional<TextError> read_line(std::string_view line, int number, auto& take) {
  if (line.size() > longest_line)
    return TextError{"a line has at most 4096 characters", 1, number};
  const auto content = trimmed(line);
  if (content.empty() || content.front() == '#')
    return std::nullopt;
  const auto column_of = [&](std::string_view part) {
    return static_cast<int>(part.data() - line.data()) + 1;
  };
  const auto colon = content.find(':');
  if (colon == std::string_view::npos || colon == 0)
    return TextError{"expected a line of the form `name: value`", column_of(content), number};
  NamedField field;
  field.name = trimmed(content.substr(0, colon));
  field.value = trimmed(content.substr(colon + 1));
  field.line = number;
  field.name_column = column_of(field.name);
  field.value_column = field.value.empty() ? column_of(content) + static_cast<int>(colon) + 1
                                           : column_of(field.value);
  return take(field);
}

} // namespace

TextError NamedField::bad_name(std::string reason) const {
  return {std::move(reason), name_column, line};
}

TextError NamedField::bad_value(std::string reason, std::size_t at) const {
  return {std::move(reason), value_column + static_cast<int>(at), line};
}

std::optional<TextError>
read_named_lines(std::string_view text,
                 const std::function<std::optional<TextError>(const NamedField&)>& take) {
  text = without_mark(text);
  for (int number = 1; !text.empty(); ++number) {
    const auto end = std::min(text.find('\n'), text.size());
    if (auto error = read_line(text.substr(0, end), number, take))
      return error;
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return std::nullopt;
}

Result<int> whole_number(const NamedField& field, int low, int high) {
  int number = 0;
  const auto* end = field.value.data() + field.value.size();
  const auto [rest, status] = std::from_chars(field.value.data(), end, number);
  if (status != std::errc{} || rest != end || number < low || number > high)
    return field.bad_value("expected a number from " + std::to_string(low) + " to " +
                           std::to_string(high));
  return number;
}

Result<bool> yes_or_no(const NamedField& field) {
  if (field.value != "yes" && field.value != "no")
    return field.bad_value("expected yes or no");
  return field.value == "yes";
}

} // namespace landfall
