#include "render/sample_frames.hpp"

#include "render/sample_parts.hpp"

#include <array>

namespace landfall::render::samples {

namespace {

Status status() {
  return {
      "Harbour Lane", "E♭", "C shape · frets 3–6", "composite over the chord", "96 bpm", "shuffle",
      "chorus 3",     "",   Running::playing};
}

void blues(Lane& lane, double moment) {
  const std::array<ChordText, 12> changes{
      chord("E", -1, "7"), chord("A", -1, "7"), chord("E", -1, "7"), chord("E", -1, "7"),
      chord("A", -1, "7"), chord("A", -1, "7"), chord("E", -1, "7"), chord("C", 0, "7"),
      chord("F", 0, "m7"), chord("B", -1, "7"), chord("E", -1, "7"), chord("B", -1, "7")};
  for (int bar = 0; bar < 14; ++bar) {
    const double beat = (bar - 4) * 4.0 - moment;
    const int number = bar % 12 + 1;
    LaneBar line;
    line.beat = beat;
    line.section = number == 1 ? "Verse" : "";
    line.number = bar == 4 ? "bar 5 of 12" : std::to_string(number);
    line.form_begins = number == 1;
    line.tag = static_cast<std::uint32_t>(number);
    lane.bars.push_back(line);
    lane.chords.push_back({beat, changes[static_cast<std::size_t>(bar % 12)], bar == 4});
  }
}

void played(Lane& lane, double moment) {
  const std::array<TraceNote, 8> notes{{{-4.1, -3.2, 0.5, false},
                                        {-3.0, -2.4, 0.35, true},
                                        {-2.0, -1.4, 0.2, false},
                                        {-1.0, -0.2, 0.1, true},
                                        {0.0, 0.45, 0.05, true},
                                        {0.6, 1.1, 0.3, false},
                                        {1.1, 1.7, 0.4, false},
                                        {1.7, moment, 0.5, true}}};
  for (TraceNote note : notes) {
    note.from -= moment;
    note.to = note.to >= moment ? 0.0 : note.to - moment;
    lane.trace.push_back(note);
  }
  lane.verdicts = {{-4.0 - moment, VerdictMark::other, "9"}, {-moment, VerdictMark::landed, "3"}};
}

} // namespace

Frame jam(double moment) {
  Frame frame;
  frame.status = status();
  blues(frame.lane, moment);
  played(frame.lane, moment);
  Neck neck = guitar();
  neck.first_fret = 2;
  neck.last_fret = 7;
  neck.hand_low = 3;
  neck.hand_high = 6;
  light(neck, {8, dominant, composite, 3, dominant, moment / 4.0}, 2, 7);
  neck.sounding = {{3, 5, 0.0, 1.0}};
  frame.board = neck;
  frame.summary = "landed 14 of 17 · thirds 6, sevenths 3, roots 5";
  frame.hints = "space stop   [ ] place   k key   ? all keys";
  return frame;
}

Frame stopped() {
  Frame frame;
  frame.status = {"Eight in A",
                  "A",
                  "E shape · frets 4–7",
                  "major pentatonic over the chord",
                  "84 bpm",
                  "eighths",
                  "",
                  "synth",
                  Running::stopped};
  const std::array<ChordText, 8> changes{chord("A", 0, ""), chord("A", 0, ""), chord("D", 0, ""),
                                         chord("D", 0, ""), chord("A", 0, ""), chord("E", 0, ""),
                                         chord("D", 0, ""), chord("A", 0, "")};
  for (int bar = 0; bar < 8; ++bar) {
    LaneBar line;
    line.beat = bar * 4.0;
    line.section = bar == 0 ? "A" : "";
    line.number = std::to_string(bar + 1);
    line.form_begins = bar == 0;
    frame.lane.bars.push_back(line);
    if (bar == 0 ||
        changes[static_cast<std::size_t>(bar)] != changes[static_cast<std::size_t>(bar - 1)])
      frame.lane.chords.push_back({bar * 4.0, changes[static_cast<std::size_t>(bar)], bar == 0});
  }
  Neck neck = guitar();
  neck.first_fret = 3;
  neck.last_fret = 8;
  neck.hand_low = 4;
  neck.hand_high = 7;
  light(neck, {9, triad, major_pentatonic, 2, triad, 0.0}, 4, 7);
  frame.board = neck;
  frame.summary = "space starts the band";
  frame.hints = "? all keys";
  frame.notice = "no audio device: playing silently";
  return frame;
}

Frame keyboard(double moment) {
  Frame frame = jam(moment);
  frame.status.place = "first inversion · G3–B♭4";
  Keyboard keys;
  keys.lowest = 48;
  keys.highest = 76;
  keys.hand_low = 55;
  keys.hand_high = 70;
  const Lights lights{8, dominant, composite, 3, dominant, moment / 4.0};
  for (int midi = keys.hand_low; midi <= keys.hand_high; ++midi)
    if (const Mark mark = lights.mark(midi); shows(mark))
      keys.keys.push_back({midi, mark});
  keys.sounding = {{63, 0.0, 1.0}};
  frame.board = keys;
  return frame;
}

Frame crowded() {
  Frame frame;
  frame.status = {"The Long Way Round the Lighthouse and Back Again Before Supper",
                  "F♯ minor",
                  "A shape · frets 9–12",
                  "melodic minor over the chord",
                  "208 bpm",
                  "sixteenth funk",
                  "chorus 12",
                  "in: stage keys · out: synth",
                  Running::playing};
  const std::array<ChordText, 8> changes{chord("F", 1, "m7♭5", "C", 1), chord("B", 0, "7♯9"),
                                         chord("E", 0, "maj9", "G", 1), chord("C", 1, "m7"),
                                         chord("G", -2, "°7"),          chord("D", 0, "Δ7"),
                                         chord("A", 0, "7sus4"),        chord("E", 1, "ø")};
  for (int bar = -2; bar < 6; ++bar) {
    LaneBar line;
    line.beat = bar * 4.0 - 1.0;
    line.section = bar == 1 ? "Bridge" : "";
    line.number = std::to_string(bar + 3);
    line.in_loop = bar >= 0 && bar <= 2;
    line.loop_opens = bar == 0;
    line.loop_closes = bar == 2;
    line.space = bar == 2;
    frame.lane.bars.push_back(line);
    for (int beat = 0; beat < (bar % 2 == 0 ? 4 : 2); ++beat)
      frame.lane.chords.push_back({line.beat + beat * (bar % 2 == 0 ? 1 : 2),
                                   changes[static_cast<std::size_t>((bar + 2 + beat) % 8)],
                                   bar == 0 && beat == 1});
  }
  frame.lane.verdicts = {{-5.0, VerdictMark::landed, "♭7"},
                         {-3.0, VerdictMark::late, "♭3"},
                         {-1.0, VerdictMark::other, "13"}};
  Neck neck = guitar();
  neck.first_fret = 0;
  neck.last_fret = 15;
  neck.hand_low = 9;
  neck.hand_high = 12;
  light(neck, {6, {0, 3, 7, 10}, {0, 2, 3, 5, 9, 10, 11}, 11, dominant, 0.25}, 8, 13);
  light(neck, {6, {0, 3, 7, 10}, {0, 2, 3}, 6, {}, 0.0}, 0, 0);
  double brightness = 1.0;
  for (Place& place : neck.places) {
    place.mark.in_grip = place.mark.role != Role::set && place.fret >= 9 && place.fret <= 10;
    place.mark.brightness = brightness;
    brightness = brightness < 0.3 ? 1.0 : brightness - 0.1;
  }
  neck.places[3].mark.pointed_at = true;
  neck.sounding = {{2, 10, 0.5, 1.0}, {4, 11, 0.0, 0.4}};
  frame.board = neck;
  frame.summary = "landed 3 of 5 · thirds 1, sevenths 1, roots 1";
  frame.hints = "space stop   [ ] place   k key   t tempo   ? all keys";
  frame.message = "from the next bar: A shape, frets 9–12";
  frame.notice = "stage keys was unplugged; waiting for it";
  return frame;
}

Frame trade() {
  Frame frame = jam();
  frame.status.title = "Trade";
  frame.lane = {};
  frame.lane.standing_from = -11.0;
  for (int bar = 0; bar < 6; ++bar) {
    LaneBar line;
    line.beat = bar * 4.0 - 11.0;
    line.section = bar == 0 ? "call" : bar == 2 ? "your answer" : bar == 4 ? "call" : "";
    line.voice = bar == 2 ? Voice::answer : Voice::call;
    frame.lane.bars.push_back(line);
    frame.lane.chords.push_back(
        {line.beat, bar % 2 == 0 ? chord("E", -1, "7") : chord("A", -1, "7"), bar == 2});
  }
  const std::array<CallNote, 6> phrase{
      {{0, 0.5, 0.7}, {0.5, 1, 0.55}, {1, 1.5, 0.4}, {1.5, 3, 0.1}, {4, 5, 0.9}, {5, 7.5, 0.6}}};
  for (double start : {-11.0, -3.0})
    for (const CallNote& note : phrase)
      frame.lane.call.push_back({note.from + start, note.to + start, note.height});
  frame.lane.answer = {{-3.0, 0.7, true, -3.0, 0.7, ""},
                       {-2.5, 0.55, true, -2.5, 0.55, ""},
                       {-1.85, 0.4, true, -2.0, 0.4, "40 ms behind"},
                       {-1.5, 0.25, false, -1.5, 0.1, "half step high"}};
  frame.summary = "last answer: 11 of 12 notes, two of them behind";
  return frame;
}

Frame two_players() {
  Frame frame = trade();
  frame.other = OtherBoard{keyboard().board, "teacher · landed 3 of 4", "you"};
  frame.message = "calls come from an instrument";
  return frame;
}

Frame scene() {
  Frame frame = jam();
  frame.theme = Theme::paper;
  frame.scene = Scene{"4 of 12",
                      "Triads hiding in the grip",
                      chord("A", -1, "7"),
                      "E shape in the same hand",
                      "coming: B♭7 in 2 beats",
                      "Land on the third. Say the degree aloud before you play it."};
  return frame;
}

/// Only the board and its chord, with what a teacher drew.
Frame bare() {
  Frame frame = jam();
  frame.scene = Scene{};
  frame.scene->bare = true;
  frame.scene->chord = chord("A", -1, "7");
  frame.large = "♭7";
  auto& neck = std::get<Neck>(frame.board);
  neck.places[2].mark.pointed_at = true;
  neck.circles = {{3, 4, 1, 6}};
  return frame;
}

Frame scene_of_trade() {
  Frame frame = trade();
  frame.scene = Scene{"15 of 15", "Answer elsewhere", chord("A", -1, "7"), "", "", ""};
  frame.scene->line =
      "You hear it here. Answer in the next place, and say which shape the chord has there.";
  frame.scene->lane = true;
  return frame;
}

Frame help() {
  Frame frame = stopped();
  HelpPage page;
  page.title = "All keys";
  const std::array<const char*, 5> titles{"Band", "Place", "Notes", "View", "Window"};
  const std::array<const char*, 8> keys{"Space", "Ctrl+Left", "K", "Shift+K", "[", "]", "F11", "?"};
  for (const char* title : titles) {
    HelpSection section{title, {}};
    for (const char* key : keys)
      section.rows.push_back({key, std::string("what ") + key + " does in " + title});
    page.sections.push_back(section);
  }
  frame.page = page;
  return frame;
}

Frame edit() {
  Frame frame = jam();
  EditPage page;
  page.title = "Quick chart";
  page.count = "12 bars";
  page.fields = {{"title", "A tune with a rather long name of its own", "untitled", {}},
                 {"key", "", "E♭, as it fits", {}},
                 {"tempo", "96", "120", {}},
                 {"meter", "", "4/4", {}},
                 {"feel", "shuffle", "as it fits", {}}};
  for (int line = 0; line < 9; ++line)
    page.lines.push_back("E♭7 | A♭7 | E♭7 | E♭7 | Cm7b5 F7#9 | B♭13sus4 |");
  page.caret = EditCaret{7, 18};
  page.problem = "line 8, column 19: 'H' is no chord: expected a letter from A to G";
  frame.page = page;
  frame.hints = "Ctrl+S save  Ctrl+Return hear";
  return frame;
}

Frame heard() {
  Frame frame = jam();
  auto& neck = std::get<Neck>(frame.board);
  neck.sounding = {{2, 4, 0.0, 1.0, Sounds::landing},
                   {4, 3, 0.0, 1.0, Sounds::set},
                   {5, 4, 0.0, 1.0, Sounds::outside}};
  frame.lane.verdicts.push_back({-8.0, VerdictMark::late, "♭7"});
  frame.timing = Timing{{0, 0.1, 0.2, 0.55, 1, 0.9, 0.3, 0.1, 0}, "mostly 12 ms behind"};
  frame.hints = "space stop  k key  ? help";
  return frame;
}

Frame list(bool beside) {
  Frame frame = jam();
  ListPage page;
  page.title = beside ? "Before you play" : "Songs";
  page.beside = beside;
  page.has_query = !beside;
  page.query_hint = "type to search";
  page.lines = {beside ? "Warm up, rest the hands, and keep the volume down. Stop when it hurts."
                       : "Thirty progressions to play over."};
  for (int i = 0; i < 30; ++i)
    page.rows.push_back(
        {"Song number " + std::to_string(i + 1), "12 bars · A", i == 0 || i == 8, i == 4});
  page.selected = 6;
  if (!beside) {
    const auto one = [](ChordText text) { return std::vector<ChordText>{std::move(text)}; };
    const auto e = one(chord("E", -1, "7")), a = one(chord("A", -1, "7"));
    const std::vector<ChordText> turn{chord("F", 0, "m7♭5"), chord("B", -1, "7♯9"),
                                      chord("E", -1, "Δ"), chord("B", -1, "7sus4")};
    page.preview = {"Trains landing on a turnaround of four chords."};
    page.chart = {{"Verse", {e, a, e, e}}, {"", {a, a, e, one(chord("C", 0, "7"))}}};
    for (int i = 0; i < 9; ++i)
      page.chart.push_back({i % 2 == 0 ? "Chorus" : "", {one(chord("F", 0, "m7")), a, e, turn}});
  }
  frame.page = page;
  return frame;
}

Frame counting_in() {
  Frame frame = stopped();
  for (LaneBar& bar : frame.lane.bars)
    bar.beat += 1.5;
  for (LaneChord& chord : frame.lane.chords)
    chord.beat += 1.5;
  frame.lane.chords[1].chord.none = true;
  LaneBar count;
  count.beat = -2.5;
  count.count_in = true;
  frame.lane.bars.insert(frame.lane.bars.begin(), count);
  frame.count_in = 3;
  frame.status.running = Running::count_in;
  frame.notice.clear();
  auto& neck = std::get<Neck>(frame.board);
  neck.first_fret = 0;
  neck.last_fret = 24;
  neck.true_spacing = true;
  neck.left_handed = true;
  return frame;
}

Frame take() {
  Frame frame = jam(0.5);
  frame.notice = "a take, chorus 2 bar 3  ·  half speed  ·  looped";
  Reel reel;
  reel.at = 0.62;
  reel.choruses = {0.04, 0.36, 0.68};
  reel.marks = {{0.04, true}, {0.12, false}, {0.2, true},
                {0.28, true}, {0.44, true},  {0.52, false}};
  reel.loop = {0.52, 0.68};
  frame.reel = std::move(reel);
  return frame;
}

std::vector<Named> all() {
  return {{"jam", jam()},
          {"heard", heard()},
          {"edit", edit()},
          {"stopped", stopped()},
          {"keyboard", keyboard()},
          {"crowded", crowded()},
          {"take", take()},
          {"trade", trade()},
          {"two-players", two_players()},
          {"scene", scene()},
          {"bare", bare()},
          {"scene-of-trade", scene_of_trade()},
          {"counting-in", counting_in()},
          {"help", help()},
          {"songs", list(false)},
          {"found", found()},
          {"ports", ports()},
          {"learning", learning()},
          {"set-list", set_list()},
          {"beside", list(true)},
          {"moves", moves()},
          {"grip", grip()},
          {"groups", groups()},
          {"key-groups", key_groups()},
          {"places", places()},
          {"history", history()},
          {"rig", rig()}};
}

} // namespace landfall::render::samples
