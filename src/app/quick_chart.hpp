#pragma once

#include "app/text_field.hpp"
#include "render/frame.hpp"
#include "song/song.hpp"
#include "theory/chord.hpp"

#include <array>
#include <optional>

namespace landfall::app {

/// A tune of one's own as it is being typed or played in: a value, without window or files. Nothing
/// that is typed is lost, whether it can be read or not.
class QuickChart {
public:
  enum Field : std::uint8_t { title, key, tempo, meter, feel, bars };
  static constexpr std::size_t field_count = 6;

  QuickChart();

  TextField& field(Field which) { return fields_[which]; }
  const TextField& field(Field which) const { return fields_[which]; }
  TextField& focused() { return fields_[focus_]; }
  Field focus() const { return focus_; }
  void set_focus(Field which) { focus_ = which; }
  void next_field(int steps);

  /// The song, or what is wrong: one line, with the line and column of the bars where it is there.
  struct Read {
    std::optional<song::Song> song;
    std::string problem;
  };
  Read read() const;

  /// As a song file.
  std::string song_text() const;
  /// Everything that was typed, and back.
  std::string draft_text() const;
  static QuickChart from_draft(std::string_view text);

  /// A chord that was played: the first of `choices` is written behind the last bar, or into it
  /// where bars are halved and it has room. Empty choices do nothing.
  void add_chord(std::vector<theory::Chord> choices);
  /// The next reading of the chord that was played last, in its place. False if there is none.
  bool next_reading();
  bool halves() const { return halves_; }
  void toggle_halves() { halves_ = !halves_; }

  /// The key that is typed, else the one that fits what is there.
  theory::Key key_now() const;

  render::EditPage page() const;

private:
  void write_reading();

  std::array<TextField, field_count> fields_;
  Field focus_ = bars;
  bool halves_ = false;
  struct Played {
    std::string before; ///< The bars without the chord.
    bool same_bar = false;
    std::vector<theory::Chord> choices;
    std::size_t choice = 0;
    std::string after; ///< The bars with it.
  };
  std::optional<Played> played_;
};

} // namespace landfall::app
