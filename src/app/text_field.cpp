#include "app/text_field.hpp"

#include <algorithm>

namespace landfall::app {
namespace {

constexpr std::size_t most_steps = 1000, longest = 100'000;

bool continues(char c) {
  return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
}

bool is_blank(char c) {
  return c == ' ' || c == '\n';
}

std::size_t before(const std::string& text, std::size_t at) {
  while (at > 0 && continues(text[--at])) {
  }
  return at;
}

std::size_t after(const std::string& text, std::size_t at) {
  if (at < text.size())
    ++at;
  while (at < text.size() && continues(text[at]))
    ++at;
  return at;
}

std::size_t characters(std::string_view text) {
  return static_cast<std::size_t>(
      std::count_if(text.begin(), text.end(), [](char c) { return !continues(c); }));
}

} // namespace

TextField::TextField(std::string text, bool many_lines)
    : text_(std::move(text)), caret_(text_.size()), many_lines_(many_lines) {}

void TextField::keep(bool typing) {
  undone_.clear();
  if (!typing || !typing_)
    done_.push_back({text_, caret_});
  if (done_.size() > most_steps)
    done_.erase(done_.begin());
  typing_ = typing;
}

void TextField::insert(std::string_view more) {
  std::string clean;
  for (const char c : more) {
    if (c == '\n' && many_lines_)
      clean += c;
    else if (c == '\n' || c == '\t')
      clean += ' ';
    else if (static_cast<unsigned char>(c) >= ' ' && c != '\x7f')
      clean += c;
  }
  if (clean.empty() || text_.size() + clean.size() > longest)
    return;
  keep(characters(clean) == 1 && !is_blank(clean.front()));
  text_.insert(caret_, clean);
  caret_ += clean.size();
}

void TextField::erase(std::size_t from, std::size_t to) {
  if (from == to)
    return;
  keep(false);
  text_.erase(from, to - from);
  caret_ = from;
}

void TextField::erase_before() {
  erase(before(text_, caret_), caret_);
}

void TextField::erase_after() {
  erase(caret_, after(text_, caret_));
}

void TextField::erase_word() {
  const auto end = caret_;
  auto start = caret_;
  while (start > 0 && is_blank(text_[start - 1]))
    --start;
  while (start > 0 && !is_blank(text_[start - 1]))
    --start;
  erase(start, end);
}

void TextField::replace(std::string text) {
  keep(false);
  text_ = std::move(text);
  caret_ = text_.size();
}

void TextField::left() {
  to(before(text_, caret_));
}

void TextField::right() {
  to(after(text_, caret_));
}

void TextField::word_left() {
  auto at = caret_;
  while (at > 0 && is_blank(text_[at - 1]))
    --at;
  while (at > 0 && !is_blank(text_[at - 1]))
    --at;
  to(at);
}

void TextField::word_right() {
  auto at = caret_;
  while (at < text_.size() && !is_blank(text_[at]))
    ++at;
  while (at < text_.size() && is_blank(text_[at]))
    ++at;
  to(at);
}

std::size_t TextField::start_of_line(std::size_t at) const {
  const auto found = at == 0 ? std::string::npos : text_.rfind('\n', at - 1);
  return found == std::string::npos ? 0 : found + 1;
}

std::size_t TextField::end_of_line(std::size_t at) const {
  return std::min(text_.find('\n', at), text_.size());
}

void TextField::line_start() {
  to(start_of_line(caret_));
}

void TextField::line_end() {
  to(end_of_line(caret_));
}

void TextField::to_column(std::size_t line_start, std::size_t count) {
  const auto end = end_of_line(line_start);
  auto at = line_start;
  while (at < end && count-- > 0)
    at = after(text_, at);
  to(std::min(at, end));
}

bool TextField::up() {
  const auto start = start_of_line(caret_);
  if (start == 0)
    return false;
  to_column(start_of_line(start - 1), characters(line_before_caret()));
  return true;
}

bool TextField::down() {
  const auto end = end_of_line(caret_);
  if (end == text_.size())
    return false;
  to_column(end + 1, characters(line_before_caret()));
  return true;
}

void TextField::to(std::size_t caret) {
  caret_ = std::min(caret, text_.size());
  typing_ = false;
}

bool TextField::step(std::vector<State>& from, std::vector<State>& to) {
  if (from.empty())
    return false;
  to.push_back({text_, caret_});
  text_ = std::move(from.back().text);
  caret_ = from.back().caret;
  from.pop_back();
  typing_ = false;
  return true;
}

bool TextField::undo() {
  return step(done_, undone_);
}

bool TextField::redo() {
  return step(undone_, done_);
}

std::size_t TextField::line() const {
  return static_cast<std::size_t>(
      std::count(text_.begin(), text_.begin() + static_cast<std::ptrdiff_t>(caret_), '\n'));
}

std::string_view TextField::line_before_caret() const {
  const auto start = start_of_line(caret_);
  return std::string_view(text_).substr(start, caret_ - start);
}

} // namespace landfall::app
