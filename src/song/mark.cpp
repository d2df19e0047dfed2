#include "song/mark.hpp"

#include <algorithm>

namespace landfall::song {

namespace {

constexpr std::size_t longest_symbol = 64;

bool blank(char c) {
  return c == ' ' || c == '\t';
}
bool digit(char c) {
  return c >= '0' && c <= '9';
}
char lower(char c) {
  return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

bool same_word(std::string_view text, std::string_view word) {
  return std::ranges::equal(text, word, {}, lower);
}

/// How long the ending mark at the front of `text` is; 0 if there is none.
std::size_t ending_length(std::string_view text) {
  std::size_t end = 0;
  while (end < text.size() && (digit(text[end]) || text[end] == ',' || text[end] == '-'))
    ++end;
  return end > 0 && end < text.size() && digit(text[0]) && text[end] == '.' ? end + 1 : 0;
}

/// How long the symbol at the front of `text` is: to a blank or bar line outside its parentheses.
std::size_t symbol_length(std::string_view text) {
  text = text.substr(0, longest_symbol);
  int depth = 0;
  std::size_t end = 0;
  for (; end < text.size() && text[end] != '|'; ++end) {
    const char c = text[end];
    if (c == ':' && end + 1 < text.size() && text[end + 1] == '|')
      break;
    if (depth == 0 && (blank(c) || c == ')'))
      break;
    depth += c == '(' ? 1 : c == ')' ? -1 : 0;
  }
  end = depth == 0 ? end : std::min(end, text.find_first_of(" \t|"));
  while (end > 1 && text[end - 1] == '/') // beats written right behind the chord
    --end;
  return end;
}

bool is_times(std::string_view text) {
  if (text.starts_with("\xC3\x97"))
    text.remove_prefix(1);
  return text.size() > 1 && text.size() <= 4 &&
         (text[0] == 'x' || text[0] == 'X' || text[0] == '\x97') &&
         std::all_of(text.begin() + 1, text.end(), digit);
}

Mark::Kind kind_of_word(std::string_view text) {
  if (same_word(text, "n.c.") || same_word(text, "nc") || same_word(text, "n.c"))
    return Mark::Kind::no_chord;
  if (same_word(text, "space"))
    return Mark::Kind::space;
  return is_times(text) ? Mark::Kind::times : Mark::Kind::symbol;
}

bool well_formed_bar_line(std::string_view text) {
  if (text.starts_with(':'))
    text.remove_prefix(1);
  if (text.ends_with(':'))
    text.remove_suffix(1);
  return text == "|" || text == "||";
}

struct Piece {
  Mark::Kind kind;
  std::size_t length;
};

Piece piece_at(std::string_view text) {
  const char c = text.front();
  const auto run = [&](std::string_view of) {
    return std::min(text.find_first_not_of(of), text.size());
  };
  if (c == '|' || c == ':')
    return {Mark::Kind::bar_line, run("|:")};
  if (c == '/')
    return {Mark::Kind::slash, run("/")};
  if (c == '%')
    return {Mark::Kind::simile, 1};
  if (c == '(')
    return {Mark::Kind::group_open, 1};
  if (c == ')')
    return {Mark::Kind::group_close, 1};
  if (const std::size_t length = ending_length(text); length > 0)
    return {Mark::Kind::ending, length};
  const std::size_t length = std::max<std::size_t>(1, symbol_length(text));
  return {kind_of_word(text.substr(0, length)), length};
}

/// Whether the mark may stand; says so if not.
bool acceptable(const Mark& mark, std::string_view rest, Reporter& reporter) {
  if (mark.kind == Mark::Kind::bar_line && !well_formed_bar_line(mark.text)) {
    reporter.error(mark.at, quoted(mark.text) + " is no bar line: expected |, ||, |:, :| or :|:");
    return false;
  }
  const bool alone =
      rest.empty() || blank(rest[0]) || rest[0] == '|' || rest[0] == ')' || rest[0] == ':';
  if (mark.kind == Mark::Kind::slash && !alone) {
    reporter.error(mark.at, "a slash for a beat stands alone: expected a blank after it, or the "
                            "chord right before it");
    return false;
  }
  return true;
}

} // namespace

std::vector<Mark> marks_of(std::string_view line, Position start, Reporter& reporter) {
  std::vector<Mark> marks;
  std::size_t at = 0;
  while (at < line.size()) {
    if (blank(line[at])) {
      ++at;
      continue;
    }
    const Piece piece = piece_at(line.substr(at));
    const Mark mark{piece.kind,
                    line.substr(at, piece.length),
                    {start.line, start.column + static_cast<int>(at)}};
    at += piece.length;
    if (acceptable(mark, line.substr(at), reporter))
      marks.push_back(mark);
  }
  return marks;
}

BarLine bar_line(const Mark& mark) {
  return {mark.text.starts_with(':'), mark.text.ends_with(':'),
          mark.text.find("||") != std::string_view::npos};
}

std::optional<Passes> passes(const Mark& mark) {
  std::string_view text = mark.text;
  std::optional<Passes> result;
  while (text.size() >= 2) { // a digit and what ends it
    const int number = text[0] - '0';
    if (!digit(text[0]) || number < 1 || digit(text[1]))
      return {};
    if (!result)
      result = Passes{number, number};
    else if (number == result->last + 1 ||
             (mark.text.size() == 4 && mark.text[1] == '-' && number > result->last))
      result->last = number;
    else
      return {};
    text.remove_prefix(2);
  }
  return text.empty() ? result : std::nullopt;
}

int times(const Mark& mark) {
  int number = 0;
  for (const char c : mark.text)
    number = digit(c) ? number * 10 + (c - '0') : number;
  return number;
}

} // namespace landfall::song
