#pragma once

#include "render/history_frame.hpp"
#include "render/list_frame.hpp"
#include "render/reel_frame.hpp"
#include "render/rig_frame.hpp"
#include "render/scene_frame.hpp"

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace landfall::render {

// What to show, as plain data. A frame knows no theory and no song: whoever fills it has already
// spelled, counted and judged. All text is UTF-8 and uses the real signs (♭ ♯ ♮ ° ø Δ);
// with_signs() makes them from plain letters. Values may be copied and compared freely, on any
// thread.

enum class Theme : std::uint8_t { stage, paper };

/// `b7` becomes `♭7`, `#11` becomes `♯11`, `Eb` `E♭`, `F##` `F♯♯`: a `b` or `#` counts as a sign
/// before a digit, after another sign, and after a capital A to G that begins a word.
std::string with_signs(std::string_view plain);

enum class Running : std::uint8_t { stopped, count_in, playing };

/// The line at the top. Empty texts are left out; the last ones give way when there is no room.
struct Status {
  std::string title;  ///< Of the song.
  std::string key;    ///< `E♭`
  std::string place;  ///< `C shape · frets 3–6`
  std::string set;    ///< `composite over the chord`
  std::string tempo;  ///< `96 bpm`
  std::string feel;   ///< `shuffle`
  std::string chorus; ///< `chorus 3`
  std::string ports;  ///< `keys in · synth out`
  Running running = Running::stopped;

  bool operator==(const Status&) const = default;
};

/// What the status line says, one word or group of words after another.
enum class StatusPart : std::uint8_t {
  title,
  key,
  place,
  set,
  running,
  tempo,
  feel,
  chorus,
  ports,
};

enum class Voice : std::uint8_t { band, call, answer };

/// A bar. All positions in the lane are in beats from the present moment: 0 is now, negative past.
struct LaneBar {
  double beat = 0.0;   ///< Of its bar line.
  double length = 4.0; ///< In beats, above 0.
  int pulses = 4;      ///< Equal parts shown by ticks: 4 in 4/4, 2 in 6/8.
  std::string section; ///< Named above the bar where a section opens: `Verse`; else empty.
  std::string number;  ///< `5`, or `bar 5 of 12` for the present one; may be empty.
  bool count_in = false;
  bool space = false;        ///< A bar to leave silent.
  bool loop_opens = false;   ///< The loop range begins with this bar.
  bool loop_closes = false;  ///< The loop range ends with this bar.
  bool in_loop = false;      ///< Within the loop range.
  bool form_begins = false;  ///< First bar of the form: its bar line is heavier.
  Voice voice = Voice::band; ///< Colours the name of a section.
  std::uint32_t tag = 0;     ///< Handed back by hit().

  bool operator==(const LaneBar&) const = default;
};

struct LaneChord {
  double beat = 0.0;
  ChordText chord;
  bool present = false; ///< The chord that sounds now.

  bool operator==(const LaneChord&) const = default;
};

/// A note that was played, as a dash under the chords.
struct TraceNote {
  double from = 0.0;   ///< Beats.
  double to = 0.0;     ///< Beats; 0 while it still sounds.
  double height = 0.5; ///< 0 lowest to 1 highest.
  bool landed = false;

  bool operator==(const TraceNote&) const = default;
};

enum class VerdictMark : std::uint8_t {
  landed, ///< Filled disc with the degree.
  late,   ///< Thick ring with the degree.
  other,  ///< Thin ring with the degree held, which may be empty.
};

struct Verdict {
  double beat = 0.0; ///< Of the change.
  VerdictMark mark = VerdictMark::landed;
  std::string degree; ///< `3`, `♭7`, or empty.

  bool operator==(const Verdict&) const = default;
};

/// A part of the called phrase, as a stepped contour.
struct CallNote {
  double from = 0.0;
  double to = 0.0;
  double height = 0.5;
  bool faint = false; ///< What is to be answered, under the answer.

  bool operator==(const CallNote&) const = default;
};

/// A note of the answer against the call.
struct AnswerNote {
  double beat = 0.0;
  double height = 0.5;
  bool right = true;
  double expected_beat = 0.0;   ///< Where it belonged; a bar joins it when it differs.
  double expected_height = 0.5; ///< Where it belonged; a tick joins it when it differs.
  std::string word;             ///< `half step high`; empty when there is nothing to say.

  bool operator==(const AnswerNote&) const = default;
};

struct Lane {
  std::vector<LaneBar> bars;     ///< In order, without gaps; those outside the window are dropped.
  std::vector<LaneChord> chords; ///< In order.
  std::vector<TraceNote> trace;
  std::vector<Verdict> verdicts;
  std::vector<CallNote> call;
  std::vector<AnswerNote> answer;
  /// Set: the bars stand still, this beat at the left margin, and the line moves (Trade).
  std::optional<double> standing_from;
  /// With it: the beat that the bars are fitted to; what follows it stands at the right margin.
  std::optional<double> standing_to;
  double zoom = 1.0; ///< Of a beat's width, 0.25 to 4.

  bool operator==(const Lane&) const = default;
};

enum class Role : std::uint8_t {
  none,    ///< Only coming.
  landing, ///< Filled disc with its label.
  set,     ///< Small open ring.
  chord,   ///< Chord tone outside the set: ring with its label.
};

/// What a place on the neck or a key shows.
struct Mark {
  Role role = Role::none;
  std::string label;    ///< `♭7`, `E♭`, `3`, or empty. Shown on landing notes and chord tones.
  bool reach = false;   ///< A smaller disc.
  bool in_grip = false; ///< Fretted by the grip that is shown: a rim. Where the role is none or
                        ///< set, an empty rim with its label.
  double brightness = 1.0; ///< 0 to 1; fading only.
  std::optional<double>
      coming;          ///< Landing note of the coming chord: how much of the arc is closed, 0 to 1.
  bool common = false; ///< Stays, a tone of both chords: a thin whole ring lies under the arc.
  bool hidden = false; ///< Drawn as nothing at all.
  bool pointed_at = false; ///< A broad frame around it (teaching).

  bool operator==(const Mark&) const = default;
};

struct Place {
  int string = 1; ///< As players count: 1 is the highest.
  int fret = 0;   ///< 0 is the open string.
  Mark mark;

  bool operator==(const Place&) const = default;
};

/// What a note that sounds is to the chord and the set.
enum class Sounds : std::uint8_t {
  landing, ///< A double halo.
  set,     ///< One ring.
  outside, ///< One ring, small and thin.
  call,    ///< A square frame in tide: the call, not the player.
};

struct SoundingPlace {
  int string = 1;
  int fret = 0;
  double bend = 0.0;       ///< In frets, upwards positive.
  double brightness = 1.0; ///< 0 to 1; falls as it rings off.
  Sounds kind = Sounds::landing;

  bool operator==(const SoundingPlace&) const = default;
};

/// A finger that lies across strings, shown as a bar under the discs.
struct Barre {
  int fret = 1;
  int from_string = 1; ///< The two may come in either order.
  int to_string = 1;

  bool operator==(const Barre&) const = default;
};

enum class GroupKind : std::uint8_t { triad, fifth };

struct GroupPlace {
  int string = 1;
  int fret = 0;

  bool operator==(const GroupPlace&) const = default;
};

/// Three places on adjacent strings that are played from together: a thin line joins them under
/// the discs, a broken one for a fifth chord. Its name stands on the line where there is room.
struct NeckGroup {
  std::array<GroupPlace, 3> places; ///< In the order of their strings, from either side.
  std::string name;                 ///< `first inversion`, `1-5-1`
  GroupKind kind = GroupKind::triad;
  bool in_grip = false; ///< All three places are in the grip that is shown.
  bool focus = false;   ///< The one to look at: a stronger line; its name joins the caption.

  bool operator==(const NeckGroup&) const = default;
};

struct StringLook {
  double gauge = 0.5; ///< 0 thinnest to 1 thickest.
  bool wound = false;
  int first_fret = 0; ///< Above 0 for a short fifth string.

  bool operator==(const StringLook&) const = default;
};

struct Neck {
  std::vector<StringLook> strings; ///< Highest first; 1 to 12.
  int first_fret = 0;      ///< The first shown. 0 shows the nut and, behind it, the open strings.
  int last_fret = 12;      ///< The last shown, above first_fret.
  int hand_low = 0;        ///< Frets under the hand, reach excluded.
  int hand_high = 0;       ///< Below hand_low: no hand is shown.
  std::vector<int> inlays; ///< Frets with a number below: 3 5 7 9 12 ...
  std::vector<int> double_inlays; ///< Of these, the ones with a double dot: 12, 24.
  int capo = 0;                   ///< Fret of the capo, 0 for none.
  bool true_spacing = false;      ///< Frets narrow towards the body.
  bool left_handed = false;       ///< The nut at the right.
  bool seen_by_player = false;    ///< The lowest string on top.
  std::vector<Place> places;
  std::vector<SoundingPlace> sounding;
  std::vector<int> muted_strings; ///< Of the grip that is shown: a small cross at the nut's side.
  std::vector<Barre> barres;      ///< Of the grip that is shown.
  std::vector<NeckGroup> groups;  ///< A single one counts as having the focus.
  std::vector<Circle> circles;    ///< Drawn by a teacher.
  std::string caption;            ///< One line above the board: `A7 as an E shape`.

  bool operator==(const Neck&) const = default;
};

struct Key {
  int midi = 60;
  Mark mark;

  bool operator==(const Key&) const = default;
};

struct SoundingKey {
  int midi = 60;
  double bend = 0.0;       ///< In half steps.
  double brightness = 1.0; ///< 0 to 1.
  Sounds kind = Sounds::landing;

  bool operator==(const SoundingKey&) const = default;
};

/// Three keys that are played together: a bar below joins them, broken for a fifth chord.
struct KeyGroup {
  std::array<int, 3> midi{}; ///< Rising.
  std::string name;
  GroupKind kind = GroupKind::triad;
  bool in_grip = false;
  bool focus = false; ///< As on a neck.

  bool operator==(const KeyGroup&) const = default;
};

struct Keyboard {
  int lowest = 48;  ///< MIDI note numbers shown; widened to white keys.
  int highest = 84; ///< At least lowest + 4.
  int hand_low = 60;
  int hand_high = 0; ///< Below hand_low: no hand is shown.
  std::vector<Key> keys;
  std::vector<SoundingKey> sounding;
  std::vector<KeyGroup> groups; ///< A single one counts as having the focus; in three rows at most.
  std::vector<Circle> circles;  ///< Drawn by a teacher.
  std::string caption;          ///< One line above the board.

  bool operator==(const Keyboard&) const = default;
};

/// A row of a help page.
struct HelpRow {
  std::string key;  ///< `Space`
  std::string text; ///< `start or stop`

  bool operator==(const HelpRow&) const = default;
};

struct HelpSection {
  std::string title;
  std::vector<HelpRow> rows;

  bool operator==(const HelpSection&) const = default;
};

struct HelpPage {
  std::string title;
  std::vector<HelpSection> sections;
  int scroll = 0; ///< First row of columns shown, if they do not fit.

  bool operator==(const HelpPage&) const = default;
};

/// One place of a key, with what the present chord is there.
struct PlacePanel {
  std::string title;    ///< `C shape · frets 3–6`; broken at the dot where room is short.
  ChordText chord;      ///< The present chord.
  std::string shape;    ///< What it is in this place: `E shape`; may be empty.
  Neck neck;            ///< Few frets: hand and reach. Its caption is not shown.
  bool present = false; ///< The place that is chosen.

  bool operator==(const PlacePanel&) const = default;
};

/// The places of a key side by side, in place of the board; the lane stays above.
struct PlacesPage {
  std::string title;              ///< `E♭ in every place`
  std::string subtitle;           ///< Quieter, beside it.
  std::vector<PlacePanel> panels; ///< Up to six are shown.

  bool operator==(const PlacesPage&) const = default;
};

/// A text field of one line.
struct EditField {
  std::string label;
  std::string text;
  std::string hint;                 ///< Shown while the text is empty.
  std::optional<std::size_t> caret; ///< In bytes: this field has the focus.

  bool operator==(const EditField&) const = default;
};

/// Where the caret is in the lines of an edit page.
struct EditCaret {
  std::size_t line = 0;
  std::size_t bytes = 0;

  bool operator==(const EditCaret&) const = default;
};

/// Something of the player's own being written, in place of the board; the lane stays above.
struct EditPage {
  std::string title;
  std::string count; ///< At the right: `12 bars`.
  std::vector<EditField> fields;
  std::vector<std::string> lines; ///< The text itself, at least one.
  std::string lines_hint;         ///< Shown while there is only one, empty line.
  std::optional<EditCaret> caret; ///< The lines have the focus.
  std::string problem;            ///< One line: what cannot be read, and where.

  bool operator==(const EditPage&) const = default;
};

using Page =
    std::variant<std::monostate, HelpPage, ListPage, PlacesPage, HistoryPage, RigPage, EditPage>;

/// How what was played lay around the beat: a few bars around a line, and words.
struct Timing {
  /// From well ahead to well behind, the middle one on the beat; 0 to 1, the highest 1. An odd
  /// number of them.
  std::vector<double> bars;
  std::string words; ///< `mostly 12 ms behind`

  bool operator==(const Timing&) const = default;
};

/// A second player's board beside the player's own; the two share the width.
struct OtherBoard {
  std::variant<Neck, Keyboard> board;
  std::string words;     ///< Above it: `teacher · landed 3 of 4`.
  std::string own_words; ///< Above the player's own.

  bool operator==(const OtherBoard&) const = default;
};

struct Frame {
  Theme theme = Theme::stage;
  double text_scale = 1.0; ///< 0.75 to 2.
  Status status;
  Lane lane;
  std::variant<Neck, Keyboard> board;
  std::optional<OtherBoard> other; ///< At the left of it.
  std::optional<Scene> scene;
  std::string summary;          ///< Footer, left: `landed 14 of 17 · thirds 6`.
  std::optional<Timing> timing; ///< Beside it; gives way to it.
  std::optional<Reel> reel;
  std::string hints;   ///< Footer, right, parted by two spaces; the last ones are kept longest.
  std::string notice;  ///< One line for the player: `no audio device: playing silently`.
  std::string message; ///< A short answer to what was just done, over the board's foot.
  std::optional<int> count_in; ///< The beat being counted, large over the lane.
  std::string large; ///< A degree that is named, large: over the lane, or beside a scene's chord.
  Page page;

  bool operator==(const Frame&) const = default;
};

} // namespace landfall::render
