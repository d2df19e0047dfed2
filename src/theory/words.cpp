#include "theory/words.hpp"

namespace landfall {
namespace {

constexpr std::string_view blanks = " \t\r\n\f\v";

} // namespace

std::string lower_case(std::string_view text) {
  std::string lower(text);
  for (auto& c : lower)
    if (c >= 'A' && c <= 'Z')
      c = static_cast<char>(c - 'A' + 'a');
  return lower;
}

std::string_view trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(blanks);
  if (first == std::string_view::npos)
    return {};
  return text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

std::vector<std::string_view> words(std::string_view text) {
  std::vector<std::string_view> found;
  for (text = trimmed(text); !text.empty(); text = trimmed(text)) {
    const auto end = text.find_first_of(blanks);
    found.push_back(text.substr(0, end));
    text.remove_prefix(found.back().size());
  }
  return found;
}

std::string joined(const std::vector<std::string_view>& words) {
  std::string text;
  for (const auto word : words)
    (text.empty() ? text : text += ' ') += word;
  return text;
}

} // namespace landfall
