#include "band/feel_lines.hpp"

#include <charconv>

namespace landfall::band {
namespace {

bool blank(char c) {
  return c == ' ' || c == '\t' || c == '\r';
}

Words without_front(Words words, std::size_t count) {
  return {words.text.substr(count), words.line, words.column + static_cast<int>(count)};
}

std::optional<int> whole(std::string_view text) {
  int value = 0;
  const auto [end, status] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (text.empty() || status != std::errc{} || end != text.data() + text.size())
    return std::nullopt;
  return value;
}

std::string in_tenths(int value) {
  const auto text = std::to_string(value / 10);
  return value % 10 == 0 ? text : text + "." + std::to_string(value % 10);
}

} // namespace

Words trimmed(Words words) {
  while (!words.text.empty() && blank(words.text.front()))
    words = without_front(words, 1);
  while (!words.text.empty() && blank(words.text.back()))
    words.text.remove_suffix(1);
  return words;
}

Words take_until(Words& words, char end) {
  const auto at = words.text.find(end);
  const auto taken = Words{words.text.substr(0, at), words.line, words.column};
  words = without_front(words, at == std::string_view::npos ? words.text.size() : at + 1);
  return trimmed(taken);
}

Words take_word(Words& words) {
  words = trimmed(words);
  std::size_t size = 0;
  while (size < words.text.size() && !blank(words.text[size]))
    ++size;
  const Words taken{words.text.substr(0, size), words.line, words.column};
  words = trimmed(without_front(words, size));
  return taken;
}

TextError error_at(Words words, std::string reason) {
  return {std::move(reason), words.column, words.line};
}

std::string shown(std::string_view text) {
  constexpr std::size_t longest = 30;
  std::string result(text.substr(0, longest));
  for (auto& c : result)
    if (c < ' ' || c > '~')
      c = '?';
  return text.size() > longest ? result + "..." : result;
}

Result<int> number_in(Words words, int low, int high) {
  const auto value = whole(words.text);
  if (!value || *value < low || *value > high)
    return error_at(words, "expected a whole number from " + std::to_string(low) + " to " +
                               std::to_string(high));
  return *value;
}

Result<int> tenths_in(Words words, int low, int high) {
  const auto expected =
      error_at(words, "expected a number from " + in_tenths(low) + " to " + in_tenths(high));
  const auto point = words.text.find('.');
  const auto before = whole(words.text.substr(0, point));
  if (!before || *before < 0 || *before > high)
    return expected;
  int value = *before * 10;
  if (point != std::string_view::npos) {
    const auto after = words.text.substr(point + 1);
    if (after.size() != 1 || after[0] < '0' || after[0] > '9')
      return expected;
    value += after[0] - '0';
  }
  if (value < low || value > high)
    return expected;
  return value;
}

} // namespace landfall::band
