#include "render/sample_frames.hpp"
#include "render/sample_parts.hpp"

#include <algorithm>

namespace landfall::render::samples {

Frame grip() {
  Frame frame = stopped();
  frame.notice.clear();
  auto& neck = std::get<Neck>(frame.board);
  const std::array<int, 6> frets{-1, 5, 6, 5, -1, 5}, fingers{0, 1, 2, 1, 0, 1};
  for (Place& place : neck.places) {
    const auto string = static_cast<std::size_t>(place.string - 1);
    place.mark.in_grip = frets[string] == place.fret;
    place.mark.label = place.mark.in_grip ? std::to_string(fingers[string]) : "";
  }
  for (int string = 1; string <= 6; ++string)
    if (const int fret = frets[static_cast<std::size_t>(string - 1)]; fret >= 0)
      if (std::none_of(neck.places.begin(), neck.places.end(),
                       [&](const Place& p) { return p.string == string && p.fret == fret; })) {
        Mark mark;
        mark.in_grip = true;
        mark.label = std::to_string(fingers[static_cast<std::size_t>(string - 1)]);
        mark.reach = fret > neck.hand_high;
        neck.places.push_back({string, fret, mark});
      }
  neck.muted_strings = {5, 1};
  neck.barres = {{5, 6, 2}};
  neck.caption = "A7, root on string 6";
  return frame;
}

Frame groups() {
  Frame frame = jam();
  auto& neck = std::get<Neck>(frame.board);
  const auto group = [](int low, std::array<int, 3> frets, std::string name, GroupKind kind) {
    return NeckGroup{{{{low, frets[0]}, {low - 1, frets[1]}, {low - 2, frets[2]}}},
                     std::move(name),
                     kind,
                     true,
                     false};
  };
  neck.groups = {group(6, {4, 6, 6}, "1-5-1", GroupKind::fifth),
                 group(5, {6, 6, 5}, "second inversion", GroupKind::triad),
                 group(4, {6, 5, 4}, "root position", GroupKind::triad),
                 group(3, {5, 4, 4}, "first inversion", GroupKind::triad)};
  neck.groups[0].in_grip = false;
  neck.groups[2].focus = true;
  neck.caption = "A♭7 · strings 4 3 2";
  return frame;
}

Frame key_groups() {
  Frame frame = keyboard();
  auto& keys = std::get<Keyboard>(frame.board);
  keys.groups = {{{56, 60, 63}, "root position", GroupKind::triad, false, true},
                 {{60, 63, 68}, "first inversion", GroupKind::triad, false, false},
                 {{63, 68, 72}, "second inversion", GroupKind::triad, false, false},
                 {{56, 63, 68}, "1-5-1", GroupKind::fifth, false, false}};
  keys.caption = "A♭7";
  return frame;
}

Frame places() {
  Frame frame = jam();
  PlacesPage page;
  page.title = "E♭ in five places";
  page.subtitle = "composite over the chord";
  const Lights lights{8, dominant, composite, 3, dominant, 0.625};
  struct In {
    const char* shape;
    int low;
    const char* chord;
  };
  for (const In in :
       {In{"D", 0, "G"}, In{"C", 3, "E"}, In{"A", 6, "D"}, In{"G", 8, "C"}, In{"E", 10, "A"}}) {
    const int high = in.low + (in.low == 0 ? 4 : 3);
    PlacePanel panel;
    panel.title = std::string(in.shape) + " shape · frets " + std::to_string(in.low) + "–" +
                  std::to_string(high);
    panel.chord = chord("A", -1, "7");
    panel.shape = std::string(in.chord) + " shape";
    panel.present = in.low == 3;
    panel.neck = guitar();
    panel.neck.first_fret = std::max(0, in.low - 1);
    panel.neck.last_fret = in.low == 0 ? 4 : high + 1;
    panel.neck.hand_low = in.low;
    panel.neck.hand_high = high;
    light(panel.neck, lights, panel.neck.first_fret, panel.neck.last_fret);
    page.panels.push_back(panel);
  }
  frame.page = page;
  return frame;
}

Frame history() {
  Frame frame = stopped();
  HistoryPage page;
  page.title = "What you practised";
  page.subtitle = "7 hours 25 minutes · landed 612 of 903";
  page.map.columns = {"C", "F", "B♭", "E♭", "A♭", "D", "A", "E", "Am", "F♯m"};
  page.map.rows = {"C shape", "A shape", "G shape", "E shape", "D shape", "fret 12"};
  for (int i = 0; i < 60; ++i) {
    const int played = i * 37 % 11 < 4 ? 0 : i * 53 % 97 + 3, landed = played * (i * 29 % 10) / 10;
    page.map.spots.push_back({played / 100.0, played == 0 ? 0.0 : 1.0 * landed / played,
                              std::to_string(landed) + " of " + std::to_string(played)});
  }
  page.degrees = {{"roots", 1.0, "480"},
                  {"seconds", 0.01, "4"},
                  {"thirds", 0.19, "90"},
                  {"fifths", 0.08, "38"},
                  {"sevenths", 0.0, "0"}};
  for (int i = 0; i < 16; ++i)
    page.weeks.push_back({std::to_string(i + 3) + " Aug", i == 4 ? 0.0 : 0.3 + i / 32.0, ""});
  for (int i = 0; i < 28; ++i)
    page.days.push_back(
        {std::to_string(i + 1) + " Nov", i % 3 == 1 ? 0.0 : (i * 7 % 10) / 9.0, ""});
  page.longest_day = "the longest: 42 minutes";
  frame.page = page;
  return frame;
}

Frame rig() {
  Frame frame = jam();
  RigPage page;
  page.title = "How the rig keeps time";
  page.subtitle = "Field Keys in · built-in synth out";
  const std::vector<std::string> ends{"0.01", "0.02", "0.05", "0.1", "0.2", "0.5",
                                      "1",    "2",    "5",    "10",  "more"};
  const std::array<int, 11> late{12, 420, 2204, 311, 64, 9, 2, 0, 0, 1, 0};
  RigChart sent{"Messages sent late by", "milliseconds", {}};
  RigChart pictures{"Pictures that took", "milliseconds", {}};
  for (std::size_t i = 0; i < ends.size(); ++i) {
    const auto words = late[i] == 0 ? "" : std::to_string(late[i]);
    sent.columns.push_back({ends[i], late[i] / 2204.0, words});
    pictures.columns.push_back({ends[i], late[ends.size() - 1 - i] / 2204.0, words});
  }
  page.charts = {sent, pictures};
  page.facts = {{"Sent", "3,023 messages", false},
                {"Late: median, 99 %, worst", "0.03, 0.14, 9.2 ms", false},
                {"Lost or too late", "3", true},
                {"Sending thread", "at real-time priority", false},
                {"Gaps in the synth's sound", "none", false},
                {"Comes in", "31 messages a second, at most 112", false},
                {"Lost coming in", "none", false},
                {"MIDI clock", "followed, 120.1 bpm", false},
                {"Pictures", "1,804 by software", false}};
  frame.page = page;
  return frame;
}

} // namespace landfall::render::samples
