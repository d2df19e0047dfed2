#pragma once

#include "song/mark.hpp"
#include "song/song.hpp"

namespace landfall::song {

/// Puts the bars of a section together as its repeats and endings ask, and reports those that
/// don't match.
class SectionBuilder {
public:
  explicit SectionBuilder(Reporter& reporter) : reporter_(reporter) {}

  void add(ChartBar bar);
  void add(BarLine line, Position at);
  void begin_ending(std::optional<Passes> passes, Position at);
  /// How often the repeat that has just closed is played in all.
  void set_times(int times, Position at);

  /// The bar written last; nullptr at the section's start. Valid until the next call.
  const ChartBar* last_bar() const;
  bool has_repeats() const;

  /// The section's end.
  std::vector<Passage> finish();

private:
  enum class Place : std::uint8_t {
    body,         ///< In bars of every pass.
    ending,       ///< In bars of some passes.
    after_ending, ///< Behind `:|` of an ending: the next ending must follow.
  };

  void close_repeat(Position at);
  void open_repeat(Position at);
  void end_passage();
  void push_passage();

  Reporter& reporter_;
  std::vector<Passage> done_;
  Passage current_;
  Place place_ = Place::body;
  std::optional<Position> opened_; ///< Where `|:` stands.
  Position mark_at_;               ///< Of the ending, or of its `:|`.
  bool just_closed_ = false;
};

} // namespace landfall::song
