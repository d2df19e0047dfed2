#include "song/text_line.hpp"

#include "song/header.hpp"
#include "song/parser.hpp"

#include <algorithm>

namespace landfall::song {

namespace {

/// Bytes of the UTF-8 character at the front of `text`; 0 if it is none, or a control character.
std::size_t character_length(std::string_view text) {
  const auto byte = [&](std::size_t i) {
    return i < text.size() ? static_cast<unsigned char>(text[i]) : 0U;
  };
  const auto continues = [&](std::size_t i) { return (byte(i) & 0xC0U) == 0x80U; };
  const unsigned first = byte(0);
  if (first < 0x80)
    return (first < 0x20 && first != '\t') || first == 0x7F ? 0 : 1;
  if (first >= 0xC2 && first <= 0xDF)
    return continues(1) && (first != 0xC2 || byte(1) >= 0xA0) ? 2 : 0;
  if (first >= 0xE0 && first <= 0xEF) {
    const bool shortest = first != 0xE0 || byte(1) >= 0xA0;
    const bool surrogate = first == 0xED && byte(1) >= 0xA0;
    return continues(1) && continues(2) && shortest && !surrogate ? 3 : 0;
  }
  if (first >= 0xF0 && first <= 0xF4) {
    const bool in_range = (first != 0xF0 || byte(1) >= 0x90) && (first != 0xF4 || byte(1) < 0x90);
    return continues(1) && continues(2) && continues(3) && in_range ? 4 : 0;
  }
  return 0;
}

/// Where the text stops being clean; its size if it is clean.
std::size_t clean_length(std::string_view text) {
  std::size_t at = 0;
  while (at < text.size()) {
    const std::size_t length = character_length(text.substr(at));
    if (length == 0)
      return at;
    at += length;
  }
  return at;
}

bool blank(char c) {
  return c == ' ' || c == '\t';
}

/// Without the comment: from a # that has blanks or the line's ends around it.
std::string_view without_comment(std::string_view line) {
  if (trimmed(line).starts_with('#'))
    return {};
  for (std::size_t i = 1; i < line.size(); ++i)
    if (line[i] == '#' && (blank(line[i - 1]) || line[i - 1] == '|' || line[i - 1] == ':') &&
        (i + 1 == line.size() || blank(line[i + 1])))
      return line.substr(0, i);
  return line;
}

TextLine trimmed_line(std::string_view text, Position at) {
  const std::string_view inner = trimmed(text);
  const auto skipped =
      inner.empty() ? text.size() : static_cast<std::size_t>(inner.data() - text.data());
  return {inner, {at.line, at.column + static_cast<int>(skipped)}};
}

} // namespace

LineReader::LineReader(std::string_view text) : rest_(text) {
  if (rest_.starts_with("\xEF\xBB\xBF"))
    rest_.remove_prefix(3);
}

std::optional<TextLine> LineReader::next(Reporter& reporter) {
  while (!rest_.empty()) {
    const std::size_t end = std::min(rest_.find('\n'), rest_.size());
    std::string_view line = rest_.substr(0, end);
    rest_.remove_prefix(std::min(end + 1, rest_.size()));
    const Position start{++number_, 1};
    if (line.ends_with('\r'))
      line.remove_suffix(1);
    const std::size_t clean = line.size() > longest_line ? line.size() : clean_length(line);
    if (line.size() > longest_line) {
      reporter.error(start, "the line is longer than " + std::to_string(longest_line) + " bytes");
    } else if (clean < line.size()) {
      reporter.error({start.line, start.column + static_cast<int>(clean)},
                     "expected text in UTF-8 without control characters");
    } else if (const TextLine found = trimmed_line(without_comment(line), start);
               !found.text.empty()) {
      return found;
    }
  }
  return {};
}

NamedLine split_name(const TextLine& line) {
  const std::size_t colon = line.text.find_first_of(":|");
  const bool named = colon != std::string_view::npos && line.text[colon] == ':' && colon > 0 &&
                     !line.text.substr(colon + 1).starts_with('|');
  if (!named)
    return {{{}, line.at}, line};
  const Position after{line.at.line, line.at.column + static_cast<int>(colon) + 1};
  return {trimmed_line(line.text.substr(0, colon), line.at),
          trimmed_line(line.text.substr(colon + 1), after)};
}

std::string title_from_bars(std::string_view text) {
  std::string title;
  for (const char c : text) {
    const bool gap = c == ' ' || c == '\t' || c == '\n' || c == '\r';
    if (!gap)
      title += c;
    else if (!title.empty() && title.back() != ' ')
      title += ' ';
    if (title.size() > 64)
      break;
  }
  title = title.substr(0, clean_length(title));
  if (title.size() > 60) {
    std::size_t end = 57;
    while ((static_cast<unsigned char>(title[end]) & 0xC0U) == 0x80U)
      --end;
    title = title.substr(0, end) + "...";
  }
  return std::string(trimmed(title));
}

} // namespace landfall::song
