#include "render/sample_frames.hpp"

namespace landfall::render::samples {

namespace {

Frame over(const Frame& below, ListPage page) {
  Frame frame = below;
  frame.page = std::move(page);
  return frame;
}

} // namespace

Frame ports() {
  ListPage page;
  page.title = "Inputs and outputs";
  page.lines = {"Several inputs play at once. What is plugged in later appears by itself."};
  page.rows = {{"Inputs", "", true, false},
               {"Field Keys MIDI 1", "the player's", false, true},
               {"Six Strings and a Very Long Name of a Port That Goes on and on 28:0",
                "a guitar, strings by channels", false, false},
               {"Outputs", "", true, false},
               {"built-in synth", "A Soundfont for General Use.sf2", false, true},
               {"none", "", false, false}};
  page.selected = 2;
  return over(stopped(), std::move(page));
}

Frame learning() {
  ListPage page;
  page.title = "Pedals, buttons and knobs";
  page.lines = {"Choose an action, then press a pedal or a button, or turn a knob.",
                "Move it now: Field Keys · controller 64. A second press takes it away again."};
  page.rows = {{"Band", "", true, false},
               {"start or stop", "pedal 64, note C2 held", false, false},
               {"end now, with a real ending", "", false, false},
               {"tempo", "knob 21, from 60 to 160 bpm", false, true},
               {"Place", "", true, false},
               {"next place up the neck", "program 3", false, false}};
  page.selected = 3;
  return over(jam(), std::move(page));
}

Frame set_list() {
  ListPage page;
  page.title = "Set lists";
  page.lines = {"Each song with its key, its place and its tempo."};
  page.rows = {{"Friday at the harbour", "4 songs · 23 minutes", true, false},
               {"Harbour Lane", "E♭ · C shape · 96 bpm · shuffle", false, true},
               {"The Long Way Round the Lighthouse and Back Again Before Supper",
                "F♯ minor · A shape · 208 bpm · sixteenth funk", false, false},
               {"Eight in A", "A · E shape · 84 bpm", false, false},
               {"Lessons", "empty", true, false}};
  page.selected = 0;
  return over(jam(), std::move(page));
}

Frame moves() {
  ListPage page;
  page.title = "What moves by itself";
  page.beside = true;
  page.rows = {{"key", "up a fourth every 2 choruses", false, false},
               {"tempo", "from 84 to 132 bpm over 12 choruses", false, false},
               {"the band drops out", "for 2 bars in every 8", false, true},
               {"space", "none", false, false},
               {"count-in", "2 bars", false, false}};
  page.selected = 1;
  return over(heard(), std::move(page));
}

Frame found() {
  Frame frame = list(false);
  auto& page = std::get<ListPage>(frame.page);
  page.query = "harb";
  page.rows = {{"Harbour Lane", "12 bars · E♭ · blues", false, false}};
  page.selected = 0;
  return frame;
}

} // namespace landfall::render::samples
