#include "app/sheet_chords.hpp"

#include "app/words.hpp"
#include "neck/wording.hpp"
#include "theory/roman.hpp"
#include "theory/words.hpp"

#include <algorithm>

namespace landfall::app::sheet {
namespace {

constexpr double figure_gap = 20, caption_height = 12, head_height = 30, row_gap = 10;
constexpr int figures_in_row = 3, groups_in_row = 5;
constexpr Style caption{8, Face::semibold, 0}, quiet{8.5, Face::regular, 0.2};

/// Figures with captions in rows, below one another.
class Rows {
public:
  Rows(Pen& pen, double room, double y) : pen_(pen), room_(room), y_(y) {}

  void add(Figure figure, const std::string& words, double cell) {
    if (x_ > 0 && x_ + std::max(cell, figure.width) > room_ + 0.01)
      next_row();
    pen_.write(caption, x_, y_ + 8, pen_.shortened(caption, words, cell));
    for (auto& mark : figure.marks)
      pen_.add(moved(std::move(mark), x_, y_ + caption_height));
    lowest_ = std::max(lowest_, y_ + caption_height + figure.height);
    x_ += std::max(cell, figure.width) + figure_gap;
  }
  void next_row() {
    if (x_ == 0)
      return;
    x_ = 0;
    y_ = lowest_ + row_gap;
  }
  double bottom() const { return lowest_; }

private:
  Pen& pen_;
  double room_, y_, x_ = 0, lowest_ = 0;
};

double cell_width(double room, int in_row) {
  return (room - figure_gap * (in_row - 1)) / in_row;
}

bool has_one(const Diagrams& diagrams) {
  return !diagrams.groups && diagrams.grip + diagrams.tones + diagrams.landing == 1;
}

/// `A  C♯  E  ·  1  3  5`
std::string notes_words(const theory::Chord& chord) {
  std::string names, degrees;
  for (const auto note : notes(chord))
    names += ascii(note) + "  ";
  for (const auto degree : chord.degrees)
    degrees += "  " + ascii(degree);
  return render::with_signs(names) + "·" + render::with_signs(degrees);
}

/// `♭VI7`
std::string numeral_words(const theory::Chord& chord, theory::Key key) {
  auto numeral = roman(chord, key);
  std::string signs;
  while (numeral.starts_with('b') || numeral.starts_with('#')) {
    signs += numeral.front() == 'b' ? "♭" : "♯";
    numeral.erase(0, 1);
  }
  return signs + render::with_signs(numeral);
}

/// `V7 in D · an E shape, nut at 5`
std::string here_words(const Place& place, const neck::NeckView& view, const theory::Chord& chord,
                       theory::Key key) {
  auto words = numeral_words(chord, key) + " in " + key_words(key);
  if (view.chord_shape)
    words += " · " + neck::with_article(view.chord_shape->name) +
             (view.chord_shape->nut == 0 ? std::string(", open")
                                         : ", nut at " + std::to_string(view.chord_shape->nut));
  if (view.hand.low != place.setting.home.low && view.hand.low > 0)
    words += " · first finger at " + std::to_string(view.hand.low);
  return words;
}

neck::NeckView only(neck::NeckView view, const neck::Shown& shown) {
  neck::show_only(view, shown);
  return view;
}

neck::NeckView grip_only(neck::NeckView view) {
  std::erase_if(view.notes, [](const neck::NeckNote& note) { return !note.in_grip; });
  for (auto& note : view.notes)
    note.in_grip = false;
  return view;
}

neck::NeckView tones_only(neck::NeckView view) {
  std::erase_if(view.notes,
                [](const neck::NeckNote& note) { return note.role == neck::Role::set; });
  return view;
}

/// One chord of the form.
class ChordBlock {
public:
  ChordBlock(const Place& place, const neck::NeckView& all, const neck::NeckView& aimed,
             const theory::Chord& chord, theory::Key key, double room,
             const render::TextMetrics& metrics)
      : place_(place), all_(all), aimed_(aimed), chord_(chord), key_(key), room_(room),
        pen_(metrics) {}

  Block make() {
    write_head();
    Rows rows(pen_, room_, head_height);
    const double cell = has_one(place_.diagrams) ? room_ : cell_width(room_, figures_in_row);
    if (place_.diagrams.grip)
      add_grip(rows, cell);
    if (place_.diagrams.tones)
      rows.add(figure(tones_only(all_), cell), "all chord tones", cell);
    if (place_.diagrams.landing)
      rows.add(figure(only(aimed_, {true, false, false, false, false, false}), cell),
               place_.target.all() ? "landing notes" : "landing notes: " + aim_words(), cell);
    if (place_.diagrams.groups)
      add_groups(rows);
    return {ascii(chord_), pen_.take(), std::max(rows.bottom(), head_height), 16, false};
  }

private:
  bool on_keys() const {
    return place_.setting.instrument->kind == neck::Instrument::Kind::keyboard;
  }
  std::string aim_words() const { return target_words(place_.target); }

  void write_head() {
    const double wide = pen_.write_chord(chord_text(chord_), 21, 0, 19) + 14;
    pen_.write(quiet, wide, 10, pen_.shortened(quiet, notes_words(chord_), room_ - wide));
    pen_.write(quiet, wide, 20.5,
               pen_.shortened(quiet, here_words(place_, all_, chord_, key_), room_ - wide));
  }

  Figure figure(const neck::NeckView& view, double cell, bool mutes = false) {
    return board_figure(pen_.metrics(), {&place_.setting, &view, place_.labels, cell, mutes});
  }

  void add_grip(Rows& rows, double cell) {
    const auto view = grip_only(all_);
    rows.add(figure(view, cell, !view.notes.empty()),
             view.notes.empty() ? "no grip in this place"
             : on_keys()        ? "close voicing"
                                : "grip",
             cell);
  }

  void add_groups(Rows& rows) {
    rows.next_row();
    const double cell = cell_width(room_, on_keys() ? figures_in_row : groups_in_row);
    for (const auto& group : all_.groups)
      rows.add(
          group_figure(pen_.metrics(), {&place_.setting, &all_, place_.labels, cell, false}, group),
          std::string(group.form) + (group.in_grip ? on_keys() ? ", voicing" : ", grip" : ""),
          cell);
  }

  const Place& place_;
  const neck::NeckView& all_;
  const neck::NeckView& aimed_;
  const theory::Chord& chord_;
  theory::Key key_;
  double room_;
  Pen pen_;
};

} // namespace

Result<Diagrams> parse_diagrams(std::string_view text) {
  constexpr std::array<std::pair<std::string_view, bool Diagrams::*>, 4> names{
      {{"grip", &Diagrams::grip},
       {"tones", &Diagrams::tones},
       {"landing", &Diagrams::landing},
       {"groups", &Diagrams::groups}}};
  Diagrams diagrams{false, false, false, false};
  auto lowered = lower_case(text);
  std::ranges::replace(lowered, ',', ' ');
  for (const auto word : words(lowered)) {
    const auto name = std::ranges::find(names, word, [](const auto& each) { return each.first; });
    if (name == names.end())
      return TextError{"'" + std::string(word) +
                       "' is no diagram: expected grip, tones, landing, groups with commas "
                       "between"};
    diagrams.*name->second = true;
  }
  return diagrams;
}

namespace {

/// A block for each chord.
std::vector<Block> one_by_one(const Place& place, double room, const render::TextMetrics& metrics) {
  // Where shapes have a meaning the grip is the shape's.
  const bool grips = !neck::Fretboard(*place.setting.instrument).shape_offset;
  const SongView aimed(*place.form, place.setting, place.target);
  std::vector<std::pair<std::string, theory::Key>> seen;
  std::vector<Block> blocks;
  for (const auto& bar : place.form->bars)
    for (const auto& at : bar.chords) {
      const auto key = std::pair(at.chord ? ascii(*at.chord) : "", bar.key);
      if (!at.chord || std::ranges::find(seen, key) != seen.end())
        continue;
      seen.push_back(key);
      auto here = place;
      here.setting = in_key(place.setting, bar.key);
      const auto all = neck::view(here.setting, at.chord, {place.diagrams.groups, grips, 1});
      const auto target = aimed.at(bar, at);
      blocks.push_back(ChordBlock(here, all, target, *at.chord, bar.key, room, metrics).make());
    }
  return blocks;
}

/// Blocks of one figure each, three abreast.
std::vector<Block> abreast(std::vector<Block> narrow, double cell) {
  std::vector<Block> rows;
  for (std::size_t i = 0; i < narrow.size(); ++i) {
    const auto column = i % figures_in_row;
    if (column == 0)
      rows.push_back({"", {}, 0, narrow[i].above, false});
    auto& row = rows.back();
    row.what += (column == 0 ? "" : ", ") + narrow[i].what;
    row.height = std::max(row.height, narrow[i].height);
    for (auto& mark : narrow[i].marks)
      row.marks.push_back(
          moved(std::move(mark), static_cast<double>(column) * (cell + figure_gap), 0));
  }
  return rows;
}

} // namespace

std::vector<Block> chord_blocks(const Place& place, double room,
                                const render::TextMetrics& metrics) {
  const double cell = cell_width(room, figures_in_row);
  return has_one(place.diagrams) ? abreast(one_by_one(place, cell, metrics), cell)
                                 : one_by_one(place, room, metrics);
}

} // namespace landfall::app::sheet
