#pragma once

#include "song/context_reader.hpp"
#include "song/key_guess.hpp"
#include "song/mark.hpp"
#include "song/section_builder.hpp"
#include "song/text_line.hpp"

#include <set>

namespace landfall::song {

/// Puts a song together from its sections' names and lines of bars.
class ChartBuilder {
public:
  explicit ChartBuilder(Reporter& reporter) : reporter_(reporter) {}

  /// What lines of `name: value` set for the bars that follow.
  ContextReader& context() { return context_; }

  void begin_section(const TextLine& name);
  void read_bars(const TextLine& line);

  /// Whether neither a section nor a bar has come yet.
  bool in_head() const { return !section_ && bars_ == 0; }
  /// Whether there are so many bars that reading on is of no use.
  bool full() const;

  /// The song without title and the like, with its sections in the order of `form_line`. All is
  /// well unless the reporter has failed.
  Song finish(const std::optional<TextLine>& form_line);

private:
  void open_section(const TextLine& name);
  void close_section();
  void close_pickup(std::vector<Passage> passages, bool repeats);
  void take_own(const Context& context);
  void read_repeat_mark(const Mark& mark, bool at_bar_start);
  void add_bar(const std::vector<Mark>& marks);
  void add_empty_bar(Position at);
  void push(ChartBar bar, Position at);
  void decide_order(const std::optional<TextLine>& form_line);
  KeySource key_source() const;

  Reporter& reporter_;
  ContextReader context_{reporter_};
  Song song_;

  std::optional<SectionBuilder> section_; ///< The section that is being read.
  TextLine name_;
  bool in_pickup_ = false;
  std::size_t bars_before_section_ = 0;
  std::set<std::string> names_;
  std::vector<Position> places_; ///< Of the names of song_.sections.

  std::size_t bars_ = 0;
  std::size_t bars_without_key_ = 0;
  bool form_begun_ = false;
  bool key_is_guessed_ = false;
  bool has_degrees_of_c_ = false; ///< Numerals were read before any key was named.
};

} // namespace landfall::song
