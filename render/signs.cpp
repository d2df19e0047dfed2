#include "render/frame.hpp"

namespace landfall::render {

namespace {

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}
bool is_letter(char c) {
  return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z');
}
bool is_sign(char c) {
  return c == 'b' || c == '#';
}

/// The signs that begin at `i` stand before a digit.
bool before_digit(std::string_view text, std::size_t i) {
  while (i < text.size() && is_sign(text[i]))
    ++i;
  return i < text.size() && is_digit(text[i]);
}

/// The signs that end at `i` follow a note letter that begins a word.
bool after_note_letter(std::string_view text, std::size_t i) {
  while (i > 0 && is_sign(text[i - 1]))
    --i;
  const bool letter = i > 0 && text[i - 1] >= 'A' && text[i - 1] <= 'G';
  return letter && (i < 2 || !is_letter(text[i - 2]));
}

/// The signs that begin at `i` end a note's name, and no word such as `Above` is meant.
bool ends_note(std::string_view text, std::size_t i) {
  if (text[i] == '#')
    return true;
  while (i < text.size() && is_sign(text[i]))
    ++i;
  const std::string_view rest = text.substr(i);
  for (std::string_view quality : {"dim", "aug", "sus", "add", "maj", "min", "Maj"})
    if (rest.starts_with(quality))
      return true;
  const bool minor = !rest.empty() && (rest[0] == 'm' || rest[0] == 'M');
  return rest.empty() || !is_letter(rest[0]) || (minor && (rest.size() < 2 || !is_letter(rest[1])));
}

} // namespace

std::string with_signs(std::string_view plain) {
  std::string out;
  for (std::size_t i = 0; i < plain.size(); ++i) {
    const bool sign = is_sign(plain[i]) && (before_digit(plain, i) ||
                                            (after_note_letter(plain, i) && ends_note(plain, i)));
    if (!sign)
      out += plain[i];
    else
      out += plain[i] == 'b' ? "♭" : "♯";
  }
  return out;
}

} // namespace landfall::render
