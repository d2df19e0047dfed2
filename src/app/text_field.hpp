#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace landfall::app {

/// Text that is being typed, in UTF-8: a caret, and every step can be undone. Positions are bytes,
/// always between whole characters. A value; window's thread.
class TextField {
public:
  explicit TextField(std::string text = "", bool many_lines = false);

  const std::string& text() const { return text_; }
  std::size_t caret() const { return caret_; }
  bool many_lines() const { return many_lines_; }

  /// Puts text in at the caret. Line breaks become blanks in a field of one line; other control
  /// characters are left out.
  void insert(std::string_view text);
  void erase_before();
  void erase_after();
  /// Back to the start of a word, with the blanks after it.
  void erase_word();
  /// Another text, as one step that can be undone; the caret at its end.
  void replace(std::string text);

  void left();
  void right();
  void word_left();
  void word_right();
  void line_start();
  void line_end();
  /// False where there is no line that way.
  bool up();
  bool down();
  void to(std::size_t caret);

  bool undo();
  bool redo();

  /// The caret's line, from 0, and its characters before the caret.
  std::size_t line() const;
  std::string_view line_before_caret() const;

private:
  struct State {
    std::string text;
    std::size_t caret = 0;
  };

  void keep(bool typing);
  void erase(std::size_t from, std::size_t to);
  bool step(std::vector<State>& from, std::vector<State>& to);
  std::size_t start_of_line(std::size_t at) const;
  std::size_t end_of_line(std::size_t at) const;
  void to_column(std::size_t line_start, std::size_t characters);

  std::string text_;
  std::size_t caret_ = 0;
  bool many_lines_ = false;
  std::vector<State> undone_, done_;
  bool typing_ = false; ///< The last step was a character: the next one joins it.
};

} // namespace landfall::app
