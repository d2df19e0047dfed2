#include "song/diagnostic.hpp"

#include <algorithm>
#include <tuple>

namespace landfall::song {

void Reporter::error(Position at, std::string message) {
  if (errors_ + 1 == limit)
    message = "so much is wrong that the rest is not read";
  if (errors_ < limit)
    diagnostics_.push_back({Severity::error, at, std::move(message)});
  ++errors_;
}

void Reporter::warning(Position at, std::string message) {
  if (warnings_ < limit)
    diagnostics_.push_back({Severity::warning, at, std::move(message)});
  ++warnings_;
}

std::vector<Diagnostic> Reporter::take() {
  std::stable_sort(diagnostics_.begin(), diagnostics_.end(), [](const auto& a, const auto& b) {
    return std::tie(a.at.line, a.at.column) < std::tie(b.at.line, b.at.column);
  });
  return std::move(diagnostics_);
}

std::string quoted(std::string_view text) {
  constexpr std::size_t most = 24;
  if (text.size() <= most)
    return "'" + std::string(text) + "'";
  std::size_t end = most;
  while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80U)
    --end;
  return "'" + std::string(text.substr(0, end)) + "...'";
}

} // namespace landfall::song
