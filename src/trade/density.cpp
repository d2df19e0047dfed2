#include "trade/density.hpp"

#include "theory/named_lines.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

namespace landfall::trade {
namespace {

/// A line that takes a whole number.
struct Number {
  std::string_view name;
  int Density::*field;
  int low;
  int high;
};

constexpr std::array numbers{
    Number{"notes", &Density::notes, 1, 32},
    Number{"fastest", &Density::fastest, 1, 16},
    Number{"length", &Density::length, 10, 100},
    Number{"syncopation", &Density::syncopation, 0, 100},
    Number{"pick-ups", &Density::pick_ups, 0, 100},
    Number{"range", &Density::range, 3, 36},
    Number{"largest leap", &Density::largest_leap, 2, 24},
    Number{"leaps", &Density::leaps, 0, 100},
    Number{"approach notes", &Density::approach_notes, 0, 100},
    Number{"enclosures", &Density::enclosures, 0, 100},
    Number{"variation", &Density::variation, 0, 100},
};

constexpr std::array<std::string_view, 4> grains{"quarter", "eighth", "triplet", "sixteenth"};

std::optional<TextError> read_grain(const NamedField& field, Density& density) {
  const auto at = std::find(grains.begin(), grains.end(), field.value);
  if (at == grains.end())
    return field.bad_value("expected quarter, eighth, triplet or sixteenth");
  density.shortest = static_cast<Grain>(at - grains.begin());
  return std::nullopt;
}

std::optional<TextError> read_number(const NamedField& field, Density& density) {
  const auto at = std::find_if(numbers.begin(), numbers.end(),
                               [&](const Number& number) { return number.name == field.name; });
  if (at == numbers.end()) {
    std::string known = "expected one of name, about, shortest";
    for (const auto& number : numbers)
      known += ", " + std::string(number.name);
    return field.bad_name(std::move(known));
  }
  const auto value = whole_number(field, at->low, at->high);
  if (!value)
    return value.error();
  density.*(at->field) = *value;
  return std::nullopt;
}

std::optional<TextError> read_text(const NamedField& field, std::string& text) {
  if (field.value.empty())
    return field.bad_value("expected a text");
  text = field.value;
  return std::nullopt;
}

std::optional<TextError> read_field(const NamedField& field, Density& density) {
  if (field.name == "name")
    return read_text(field, density.name);
  if (field.name == "about")
    return read_text(field, density.about);
  if (field.name == "shortest")
    return read_grain(field, density);
  return read_number(field, density);
}

} // namespace

Result<Density> parse_density(std::string_view text) {
  Density density;
  std::set<std::string, std::less<>> seen;
  const auto error = read_named_lines(text, [&](const NamedField& field) {
    if (!seen.emplace(field.name).second)
      return std::optional(field.bad_name("'" + std::string(field.name) + "' stands here twice"));
    return read_field(field, density);
  });
  if (error)
    return *error;
  if (density.name.empty())
    return TextError{"expected a line `name: ...`"};
  return density;
}

Density between(const std::vector<Density>& rising, double amount) {
  const auto last = static_cast<double>(rising.size() - 1);
  const double at = std::clamp(amount, 0.0, 1.0) * last;
  const auto below = static_cast<std::size_t>(at);
  const auto above = std::min(below + 1, rising.size() - 1);
  const double share = at - static_cast<double>(below);
  Density result = rising[share < 0.5 ? below : above];
  for (const auto& number : numbers) {
    const double low = rising[below].*(number.field);
    const double high = rising[above].*(number.field);
    result.*(number.field) = static_cast<int>(std::lround(low + (high - low) * share));
  }
  return result;
}

} // namespace landfall::trade
