#pragma once

#include "midi/plan.hpp"
#include "theory/result.hpp"
#include "time/tempo.hpp"

#include <cstdint>
#include <span>
#include <string>
#include <variant>
#include <vector>

/// Standard MIDI files (Standard MIDI Files 1.0, RP-001), always in ticks of 960 to the quarter.
/// Pure; any thread.
namespace landfall::midi::smf {

/// Numbers are those of the file format.
enum class TextKind : std::uint8_t {
  text = 1,
  copyright = 2,
  track_name = 3,
  instrument = 4,
  lyric = 5,
  marker = 6,
  cue = 7,
};

struct Text {
  TextKind kind = TextKind::text;
  std::string text; ///< Bytes, by custom UTF-8.

  bool operator==(const Text&) const = default;
};

struct Metre {
  int numerator = 4;   ///< 1 to 255.
  int denominator = 4; ///< 1, 2, 4, ... 64.

  bool operator==(const Metre&) const = default;
};

struct KeySignature {
  int sharps = 0; ///< -7 to 7; flats are negative.
  bool minor = false;

  bool operator==(const KeySignature&) const = default;
};

using Content = std::variant<ShortMessage, Tempo, Metre, KeySignature, Text>;

struct Event {
  Ticks at; ///< From the start of the file, not below 0.
  Content content;

  bool operator==(const Event&) const = default;
};

struct Track {
  std::vector<Event> events;
  Ticks end; ///< Where the track ends; not before its last event.

  /// The first track name in it, or nothing.
  std::string name() const;

  void add(Ticks at, Content content);
  /// A note-on and its note-off; `length` counts as 1 at least.
  void add_note(Ticks at, Ticks length, int channel, int note, int velocity);
  /// Sorts by tick. At equal ticks: first all that is no note, then note-offs, then note-ons; else
  /// as added.
  void sort();

  bool operator==(const Track&) const = default;
};

struct File {
  std::vector<Track> tracks;

  bool operator==(const File&) const = default;
};

/// The file as type 1. Events of each track must be sorted by tick.
std::vector<std::uint8_t> write(const File& file);

struct ReadError {
  std::string reason;     ///< One line.
  std::size_t offset = 0; ///< Of the byte where it was seen.
};

/// Events in all tracks of a file that read() takes; a long concert has a tenth of that.
inline constexpr std::size_t event_limit = 1'000'000;

/// The end of the time that read() takes; up to there, ticks are exact in time.
inline constexpr Ticks time_limit{10'000'000'000};

/// Reads types 0 and 1 of any division in ticks. Leaves out exclusive messages and kinds of meta
/// events that are not in Content. Any bytes give a file or an error; memory is bounded by
/// event_limit and the size of the file.
Result<File, ReadError> read(std::span<const std::uint8_t> bytes);

} // namespace landfall::midi::smf
