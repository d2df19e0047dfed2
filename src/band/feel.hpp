#pragma once

#include "song/pulse.hpp"
#include "theory/note.hpp"
#include "theory/result.hpp"

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace landfall::band {

enum class Level : std::uint8_t { quiet, medium, full };
inline constexpr std::array<Level, 3> all_levels{Level::quiet, Level::medium, Level::full};

/// quiet, medium, full by thirds of the intensity, which is clamped to [0, 1].
Level level_of(double intensity);

enum class Role : std::uint8_t { groove, fill, ending };

/// Bars of cells, a character each, as songs/feels/README.md describes them. Each bar is split
/// evenly into its cells; their number is a multiple of the feel's beats.
struct Row {
  std::vector<std::string> bars; ///< At least one, none empty.

  bool operator==(const Row&) const = default;
};

struct DrumRow {
  theory::MidiNote note;
  Row cells; ///< `.` none, `,` ghost, `o` soft, `x` plain, `X` accented.

  bool operator==(const DrumRow&) const = default;
};

struct DrumPattern {
  Role role = Role::groove;
  std::optional<Level> level; ///< None: any.
  int beats = 0; ///< Of a fill: how many of the bar's last beats it takes. Else the bar's.
  std::vector<DrumRow> rows;

  bool operator==(const DrumPattern&) const = default;
};

/// Of the bass or of comping.
struct LinePattern {
  Role role = Role::groove;
  std::optional<Level> level; ///< None: any.
  Row line;                   ///< `.` rest, `-` hold, and what the part's own letters say.
  std::optional<Row> touch;   ///< How hard: the letters of a drum row. None: plain.

  bool operator==(const LinePattern&) const = default;
};

/// What comping may add to a chord as written, where the key has it.
enum class Colour : std::uint8_t {
  plain,  ///< Nothing.
  ninths, ///< A ninth to sevenths and sixths.
  rich,   ///< Sevenths to plain triads too, and thirteenths to dominants.
};

/// How comping builds its voicings.
enum class Hands : std::uint8_t {
  keys,   ///< Close and open voicings, as two hands would.
  guitar, ///< Wider, on at most four neighbouring strings: open voicings of four notes.
};

using song::Swing;

/// What a part sounds like, for whoever sends it: General MIDI programs, numbered from 0.
struct Sounds {
  int bass = 33;   ///< Fingered bass.
  int comping = 4; ///< Electric piano.
  int kit = 0;     ///< Program of the percussion channel.

  bool operator==(const Sounds&) const = default;
};

/// Loudness of the parts in percent of what the cells say, 10 to 150.
struct Mix {
  int drums = 100;
  int bass = 100;
  int comping = 100;

  bool operator==(const Mix&) const = default;
};

/// A style the band plays.
struct Feel {
  std::string name;
  std::string about; ///< One line.
  song::Meter meter; ///< What the patterns are written in. Others are played from the same beats.
  Swing swing;
  Colour colour = Colour::plain;
  Hands hands = Hands::keys;
  int voices = 4; ///< Notes in a comping chord, 3 to 5.
  Sounds sounds;
  Mix mix;
  std::optional<theory::MidiNote> opening; ///< A cymbal at the start of a section after a fill.
  std::vector<DrumPattern> drums;          ///< At least one groove.
  std::vector<LinePattern> bass;           ///< At least one groove.
  std::vector<LinePattern> comping;        ///< At least one groove.
  std::vector<DrumRow> count_in;           ///< Empty: a click on each beat.

  bool operator==(const Feel&) const = default;
};

/// Reads a feel file. Total: any bytes give a feel or an error with line and column. Files above
/// 256 KiB are refused.
Result<Feel> parse_feel(std::string_view text);

/// A feel of the program's own, straight and simple, for when no feel file is found.
const Feel& plain_feel();

} // namespace landfall::band
