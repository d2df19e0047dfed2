#include "theory/named_lines.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

using namespace landfall;

namespace {

std::vector<std::string> read(std::string_view text, std::optional<TextError>* error = nullptr) {
  std::vector<std::string> fields;
  const auto result = read_named_lines(text, [&](const NamedField& field) {
    fields.push_back(std::string(field.name) + "=" + std::string(field.value) + "@" +
                     std::to_string(field.line) + "," + std::to_string(field.name_column) + "," +
                     std::to_string(field.value_column));
    return std::optional<TextError>{};
  });
  if (error != nullptr)
    *error = result;
  return fields;
}

} // namespace

TEST_CASE("names and values are read with their places, comments and blank lines are not") {
  const std::vector<std::string> expected{"key=Eb@2,1,6", "say=a: b@4,3,10", "empty=@5,1,7"};
  CHECK(read("# a comment\nkey: Eb\r\n\n  say :  a: b  \nempty:") == expected);
  CHECK(read("\xEF\xBB\xBFkey: A") == std::vector<std::string>{"key=A@1,1,6"});
  CHECK(read("").empty());
}

TEST_CASE("a line without name or colon is an error at its place") {
  std::optional<TextError> error;
  read("key: A\n  nothing", &error);
  REQUIRE(error);
  CHECK(error->line == 2);
  CHECK(error->column == 3);
  read(": A", &error);
  CHECK(error);
  read("key: " + std::string(5000, 'x'), &error);
  CHECK(error);
}

TEST_CASE("numbers and answers are read, others say what was expected") {
  const NamedField field{"bars", "12", 3, 1, 7};
  CHECK(whole_number(field, 1, 12).value() == 12);
  CHECK(whole_number(field, 1, 8).error() == TextError{"expected a number from 1 to 8", 7, 3});
  CHECK_FALSE(whole_number({"bars", "12x", 1, 1, 1}, 1, 99));
  CHECK(yes_or_no({"click", "yes", 1, 1, 1}).value());
  CHECK_FALSE(yes_or_no({"click", "maybe", 1, 1, 1}));
}
