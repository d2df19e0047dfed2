#include "trade/phrase_value.hpp"

#include <charconv>
#include <vector>

namespace landfall::trade {
namespace {

constexpr int most_ticks = 1'000'000;

bool take(std::string_view& text, char sign) {
  if (!text.starts_with(sign))
    return false;
  text.remove_prefix(1);
  return true;
}

/// -1 where there is none, or one beyond `most_ticks`.
int take_number(std::string_view& text) {
  int number = -1;
  const auto* end = text.data() + text.size();
  const auto [rest, status] = std::from_chars(text.data(), end, number);
  if (status != std::errc{} || number < 0 || number > most_ticks)
    return -1;
  text.remove_prefix(static_cast<std::size_t>(rest - text.data()));
  return number;
}

bool is_value(int number) {
  return number >= 1 && number <= 32 && (number & (number - 1)) == 0;
}

/// None where the text begins with no single value.
std::optional<Ticks> take_single(std::string_view& text) {
  const bool plain_ticks = take(text, 'k');
  const int number = take_number(text);
  if (plain_ticks)
    return number < 0 ? std::nullopt : std::optional(Ticks{number});
  if (!is_value(number))
    return std::nullopt;
  Ticks length = quarter * 4 / number;
  Ticks dot = length / 2;
  for (int dots = 0; dots < 2 && take(text, '.'); ++dots, dot = dot / 2)
    length += dot;
  return take(text, 't') ? length * 2 / 3 : length;
}

struct Written {
  Ticks ticks;
  std::string text;
};

std::vector<Written> single_values() {
  std::vector<Written> values;
  for (const char* ending : {"", ".", "t", ".."})
    for (const char* number : {"1", "2", "4", "8", "16", "32"}) {
      const std::string text = std::string(number) + ending;
      std::string_view rest = text;
      values.push_back({take_single(rest).value_or(Ticks{}), text});
    }
  return values;
}

} // namespace

Result<Ticks> take_value(std::string_view& text) {
  const auto before = text;
  Ticks sum;
  do {
    const auto at = static_cast<int>(before.size() - text.size()) + 1;
    const auto value = take_single(text);
    if (!value || (sum += *value).count > most_ticks) {
      text = before;
      return TextError{
          "expected a note value: 1, 2, 4, 8, 16 or 32, with dots or t; or k and ticks", at};
    }
  } while (take(text, '~'));
  return sum;
}

std::string value_text(Ticks ticks) {
  static const auto values = single_values();
  for (const auto& value : values)
    if (value.ticks == ticks)
      return value.text;
  for (const auto& first : values)
    for (const auto& second : values)
      if (first.ticks + second.ticks == ticks)
        return first.text + "~" + second.text;
  return "k" + std::to_string(ticks.count);
}

} // namespace landfall::trade
