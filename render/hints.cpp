#include "render/hints.hpp"

namespace landfall::render {
namespace {

std::size_t next_character(std::string_view text, std::size_t at) {
  do
    ++at;
  while (at < text.size() && (static_cast<unsigned char>(text[at]) & 0xC0U) == 0x80U);
  return at;
}

} // namespace

std::string last_hints(const Pen& pen, const Setting& setting, std::string_view hints, int room) {
  while (!hints.empty() && pen.width(setting, hints) > room) {
    const std::size_t gap = hints.find("  ");
    const std::size_t next = hints.find_first_not_of(' ', std::min(gap, hints.size()));
    hints = next == std::string_view::npos ? std::string_view{} : hints.substr(next);
  }
  return std::string(hints);
}

std::size_t character_at(const Pen& pen, const Setting& setting, std::string_view text, int x) {
  std::size_t at = 0;
  while (at < text.size() && pen.width(setting, text.substr(0, next_character(text, at))) <= x)
    at = next_character(text, at);
  return at;
}

std::optional<HintPlace> hint_at(const Pen& pen, const Setting& setting, std::string_view hints,
                                 int x) {
  const std::size_t at = x < 0 ? hints.size() : character_at(pen, setting, hints, x);
  std::size_t from = 0;
  while (from < hints.size()) {
    const std::size_t end = std::min(hints.find("  ", from), hints.size());
    if (at >= from && at < end)
      return HintPlace{hints.substr(from, end - from), at - from};
    from = std::min(hints.find_first_not_of(' ', end), hints.size());
  }
  return std::nullopt;
}

} // namespace landfall::render
