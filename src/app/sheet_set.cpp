#include "app/sheet_chords.hpp"
#include "app/words.hpp"

#include <algorithm>

namespace landfall::app::sheet {
namespace {

constexpr double heading_height = 20, legend_step = 19, between = 34, figure_width = 200;
constexpr Style heading{11, Face::bold}, quiet{8.5, Face::regular, 0.2};

neck::NeckNote example(neck::Role role, bool in_grip, bool reach) {
  neck::NeckNote note;
  note.role = role;
  note.in_set = role != neck::Role::chord;
  note.in_grip = in_grip;
  note.reach = reach;
  return note;
}

struct Sign {
  neck::NeckNote note;
  const char* label;
  const char* meaning;
};

std::vector<Sign> signs(bool keyboard, const Diagrams& diagrams) {
  using neck::Role;
  std::vector<Sign> all{
      {example(Role::landing, false, false), "3", "land here: a tone of the chord, in your set"},
      {example(Role::chord, false, false), "7", "a tone of the chord that is not in your set"},
      {example(Role::set, false, false), "", "another note of the set, to pass through"},
      {example(Role::landing, false, true), "3",
       keyboard ? "smaller: just beyond the hand"
                : "smaller: within reach, a fret beyond the hand"}};
  if (diagrams.tones)
    all.insert(all.begin() + 2,
               {example(Role::landing, true, false), "1",
                keyboard ? "ringed: in the close voicing" : "ringed: the grip holds it"});
  return all;
}

/// Over the tonic chord, so that what is safe at home is seen as such.
neck::NeckView home_view(const Place& place) {
  auto view = neck::view(place.setting, tonic_chord(place.setting.key), {false, false, 0});
  neck::show_only(view, {true, true, false, false, false, false});
  return view;
}

std::string home_words(const Place& place) {
  const auto tonic = tonic_chord(place.setting.key);
  return set_words(place.setting, tonic) + ", here over " + render::with_signs(ascii(tonic)) +
         ", the home chord";
}

} // namespace

Block set_block(const Place& place, double room, const render::TextMetrics& metrics) {
  Pen pen(metrics);
  const auto view = home_view(place);
  const double wide = pen.write(heading, 0, 9, "The notes") + 10;
  pen.write(quiet, wide, 9, pen.shortened(quiet, home_words(place), room - wide));
  auto figure = board_figure(metrics, {&place.setting, &view, place.labels, figure_width, false});
  for (auto& mark : figure.marks)
    pen.add(moved(std::move(mark), 0, heading_height));
  const double x = figure.width + between;
  double y = heading_height + 9;
  const bool keyboard = place.setting.instrument->kind == neck::Instrument::Kind::keyboard;
  for (const auto& sign : signs(keyboard, place.diagrams)) {
    draw_note(pen, sign.note, sign.label, x + 8, y);
    pen.write(quiet, x + 24, y + 3, pen.shortened(quiet, sign.meaning, room - x - 24));
    y += legend_step;
  }
  return {"note set", pen.take(), std::max(heading_height + figure.height, y - 8), 18, false};
}

} // namespace landfall::app::sheet
