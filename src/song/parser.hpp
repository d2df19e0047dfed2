#pragma once

#include "song/diagnostic.hpp"
#include "song/song.hpp"

#include <optional>
#include <string_view>

/// The song format: plain text in UTF-8, read like a lead sheet.
///
///     title: Lamps along the Quay
///     key: A
///     meter: 4/4
///     tempo: 96
///     feel: shuffle
///     trains: landing on the third of the four chord
///     form: Verse, Verse, Bridge, Verse
///
///     # A line like this is a comment, and so is the rest of a line after a free-standing #.
///
///     Pick-up:
///     | E7 / |
///
///     Verse:
///     |: A | D / E / | A | A :| x3
///     | D | D7 |1. A | E :|2. E | A |
///
///     Bridge:
///     key: D
///     | 4 | b7 | 1/3 (/ 4) / 5 | % |
///     | ii7 | V7 | N.C. | D space |
///
/// Head. Lines of `name: value` before the bars. `key` has an m for minor. `tempo` counts the beats
/// that the foot taps: dotted quarters in 6/8, 9/8 and 12/8. `trains` says what the song is good
/// for. What is missing is 4/4, 120, a feel that fits the metre, and the key that fits the chords
/// best. `key`, `meter`, `tempo` and `feel` may also stand between lines of bars; they hold from
/// the next bar to the end of the text or the next such line.
///
/// Sections. A name and a colon. Without a `form` line they are played in the order of the text;
/// with one, as it says (`Bridge x2` is twice). A section called Pick-up is played once, before the
/// top, and is no part of the form; a bar there that lacks beats starts late.
///
/// Bars stand between `|`; a line may end anywhere between two bars. In a bar:
///   `Am7`, `vi7`, `6-7`  a chord symbol, a Roman numeral, a Nashville number, also side by side
///   `/`                  one more beat of what sounds; at the bar's start, of the bar before
///   `(C D)`              several share one beat in equal parts; slashes count here too
///   `%`                  the bar before once more
///   `N.C.`               no chord
///   `space`              the player rests in this bar, whatever else is in it
/// Chords without slashes divide a bar evenly. In compound metre a bar may be written in beats or,
/// in full, in eighths.
///
/// Repeats. `|:` and `:|` (without `|:`, from the section's start or the last repeat), `x3` after
/// `:|` for three times in all, `1.`, `2.`, `1-3.` at the start of an ending; each ending but the
/// last closes with `:|`, and `||` may mark where the last one stops. Repeats end with their
/// section.
namespace landfall::song {

inline constexpr std::size_t longest_text = 1'000'000; ///< Bytes.
inline constexpr std::size_t longest_line = 4'000;     ///< Bytes.
inline constexpr std::size_t most_bars = 4'000;        ///< On the page, and in a chorus.

/// A song if nothing in the text is an error, and everything there is to say about the text.
struct ReadSong {
  std::optional<Song> song;
  std::vector<Diagnostic> diagnostics; ///< In the order of the text.
};

/// Reads any bytes whatever, in linear time.
ReadSong read_song(std::string_view text);

/// The song, or the first error.
Result<Song> parse_song(std::string_view text);

/// Bars alone, as typed on a command line: `A | D | E | A`. 4/4 and 120 beats a minute unless
/// lines of `name: value` say otherwise; the title is the text itself.
Result<Song> parse_progression(std::string_view text);

} // namespace landfall::song
