#include "practice/place_text.hpp"

#include "theory/words.hpp"

namespace landfall::practice {

std::string place_text(const neck::PlaceRequest& place) {
  std::string text;
  if (place.shape)
    text = std::string(1, *place.shape) + " shape";
  if (place.position)
    text += (text.empty() ? "fret " : " fret ") + std::to_string(*place.position);
  return text;
}

Result<neck::PlaceRequest> read_place(const NamedField& field) {
  neck::PlaceRequest place;
  const auto parts = words(field.value);
  std::size_t at = 0;
  if (parts.size() >= 2 && parts[1] == "shape") {
    if (parts[0].size() != 1 || std::string_view("CAGED").find(parts[0]) == std::string_view::npos)
      return field.bad_value("expected C, A, G, E or D before `shape`");
    place.shape = parts[0].front();
    at = 2;
  }
  if (at + 2 == parts.size() && parts[at] == "fret") {
    NamedField number = field;
    number.value = parts[at + 1];
    number.value_column += static_cast<int>(parts[at + 1].data() - field.value.data());
    const auto fret = whole_number(number, 0, 127);
    if (!fret)
      return fret.error();
    place.position = *fret;
    at += 2;
  }
  if (at != parts.size() || at == 0)
    return field.bad_value("expected `E shape`, `fret 5` or both");
  return place;
}

} // namespace landfall::practice
