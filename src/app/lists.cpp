#include "app/lists.hpp"

#include "app/data.hpp"
#include "app/field_keys.hpp"
#include "app/own_sets.hpp"
#include "app/words.hpp"
#include "song/unroll.hpp"
#include "theory/scale.hpp"
#include "theory/words.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace landfall::app {
namespace {

/// The bars of a form, four a line, as on a lead sheet.
std::vector<render::ChartLine> chart_of(const song::Form& form) {
  constexpr std::size_t bars_a_line = 4;
  std::vector<render::ChartLine> chart;
  for (const auto& bar : form.bars) {
    const bool section = bar.section_start && !bar.section.empty();
    if (chart.empty() || section || chart.back().bars.size() == bars_a_line)
      chart.push_back({section ? bar.section : "", {}});
    auto& chords = chart.back().bars.emplace_back();
    for (const auto& change : bar.chords)
      chords.push_back(chord_text(change.chord));
  }
  return chart;
}

ChoiceList::Item item_of(const std::filesystem::path& path, const std::string& present) {
  ChoiceList::Item item;
  item.value = path.stem().string();
  item.chosen = item.value == present || path.string() == present;
  const auto song = song::parse_song(read_file(path).text);
  if (!song) {
    item.text = item.value;
    item.detail = "line " + std::to_string(song.error().line);
    item.preview = {"This file cannot be read.", song.error().reason};
    return item;
  }
  item.text = song->title.empty() ? item.value : song->title;
  item.detail = key_words(song->key) + " · " + feel_words(song->feel) + " · " +
                std::to_string(std::lround(beats_per_minute(song->tempo, song->meter)));
  if (!song->trains.empty())
    item.preview = {"Trains " + song->trains + "."};
  item.chart = chart_of(unroll(*song));
  return item;
}

void focus_chosen(ChoiceList& list) {
  const auto chosen = std::find_if(list.items.begin(), list.items.end(),
                                   [](const auto& item) { return item.chosen; });
  if (chosen != list.items.end())
    list.selected = static_cast<int>(chosen - list.items.begin());
}

std::optional<ChoiceList::Item> typed_tuning(const std::string& query) {
  const auto tuning = neck::parse_tuning(query);
  if (!tuning)
    return std::nullopt;
  return ChoiceList::Item{
      render::with_signs(query), "as it is typed", "tuning:" + query, {}, false};
}

} // namespace

std::vector<const ChoiceList::Item*> ChoiceList::shown() const {
  std::vector<const Item*> left;
  if (typed_item_)
    left.push_back(&*typed_item_);
  const auto wanted = lower_case(query.text());
  for (const auto& item : items)
    if (wanted.empty() ||
        (!item.value.empty() && (lower_case(item.text).find(wanted) != std::string::npos ||
                                 lower_case(item.detail).find(wanted) != std::string::npos)))
      left.push_back(&item);
  return left;
}

void ChoiceList::move(int rows) {
  first.reset();
  const auto left = shown();
  const int count = static_cast<int>(left.size());
  const auto is_heading = [&](int row) {
    return left[static_cast<std::size_t>(row)]->value.empty();
  };
  if (count == 0)
    return;
  const int step = rows < 0 ? -1 : 1;
  int row = std::clamp(selected + rows, 0, count - 1);
  while (row + step >= 0 && row + step < count && is_heading(row))
    row += step;
  while (row - step >= 0 && row - step < count && is_heading(row))
    row -= step;
  selected = row;
}

void ChoiceList::type(std::string_view text) {
  query.insert(text);
  read_query();
}

void ChoiceList::read_query() {
  typed_item_ = typed != nullptr ? typed(query.text()) : std::nullopt;
  selected = 0;
  move(0);
}

bool ChoiceList::press(const render::KeyPress& press) {
  constexpr std::array<std::pair<std::string_view, int>, 6> rows{
      {{"Up", -1}, {"Down", 1}, {"PageUp", -8}, {"PageDown", 8}, {"Home", -9999}, {"End", 9999}}};
  if (has_query && press_query(press))
    return true;
  if (press.control || press.alt)
    return false;
  for (const auto& [name, by] : rows)
    if (press.name == name)
      return move(by), true;
  return false;
}

/// What changes nothing in the query is the list's or the page's; but no sign is a command
/// meanwhile, and nothing is silenced by erasing once too often. No search begins with a blank.
bool ChoiceList::press_query(const render::KeyPress& press) {
  const auto before = query.text();
  if (before.empty() && press.name == "Space")
    return false;
  const auto caret = query.caret();
  if (!press_in(query, press))
    return false;
  if (query.text() != before)
    read_query();
  const bool moves = press.name == "Left" || press.name == "Right";
  return query.text() != before || query.caret() != caret || types(press) ||
         press.name == "Backspace" || (moves && !before.empty());
}

bool ChoiceList::click(const render::Hit& hit) {
  if (const auto* field = std::get_if<render::HitField>(&hit); field != nullptr && has_query)
    query.to(field->caret);
  const auto* row = std::get_if<render::HitRow>(&hit);
  const auto left = shown();
  if (row == nullptr || row->index < 0 || static_cast<std::size_t>(row->index) >= left.size() ||
      left[static_cast<std::size_t>(row->index)]->value.empty())
    return false;
  selected = row->index;
  first = row->first;
  return true;
}

void ChoiceList::stay_as(const ChoiceList& before) {
  query = before.query;
  typed_item_ = before.typed_item_;
  selected = before.selected;
  first = before.first;
}

const ChoiceList::Item* ChoiceList::focused() const {
  const auto left = shown();
  const auto row = static_cast<std::size_t>(std::max(selected, 0));
  return row < left.size() ? left[row] : nullptr;
}

std::string ChoiceList::value() const {
  const auto* item = focused();
  return item != nullptr ? item->value : "";
}

render::ListPage ChoiceList::page() const {
  render::ListPage page;
  page.title = title;
  page.lines = lines;
  page.hints = hints;
  page.has_query = has_query;
  page.query = query.text();
  page.query_caret = query.caret();
  page.query_hint = query_hint;
  page.selected = selected;
  page.first = first;
  page.beside = beside;
  const auto left = shown();
  if (left.empty() && !query.text().empty())
    page.rows.push_back({"nothing of that name", "", true, false});
  for (const auto* item : left)
    page.rows.push_back({item->text, item->detail, item->value.empty(), item->chosen});
  if (const auto* item = focused())
    page.preview = item->preview, page.chart = item->chart;
  return page;
}

ChoiceList song_list(const std::string& present) {
  ChoiceList list;
  list.title = "Songs";
  list.has_query = true;
  for (const auto& path : song_files())
    list.items.push_back(item_of(path, present));
  std::stable_sort(list.items.begin(), list.items.end(),
                   [](const auto& a, const auto& b) { return a.text < b.text; });
  focus_chosen(list);
  return list;
}

ChoiceList port_list(const midi::PortLists& ports, const Settings& settings) {
  ChoiceList list;
  list.title = "MIDI ports";
  list.lines = {"A port is remembered by its name, and opened again by itself when it comes back."};
  const auto add = [&](const std::string& way, const std::string& present, const std::string& value,
                       const std::string& text, const std::string& detail) {
    list.items.push_back({text, detail, way + value, {}, present == value});
  };
  list.items.push_back({"Play the band through", "", "", {}, false});
  add("out:", settings.out, "synth", "The built-in synth", "");
  add("out:", settings.out, "virtual", "A port of our own", "others connect to it");
  add("out:", settings.out, "none", "Nothing", "silent");
  for (const auto& port : ports.outputs)
    add("out:", settings.out, port.name, port.name, port.api);
  list.items.push_back({"The built-in synth sounds", "", "", {}, false});
  const auto latency = std::string(midi::latency_name(settings.latency));
  add("latency:", latency, "usual", "As usual", "");
  add("latency:", latency, "low", "Sooner", "a busy machine may stutter");
  list.items.push_back({"Listen to", "", "", {}, false});
  add("in:", settings.in, "", "The first input there is", "");
  add("in:", settings.in, "virtual", "A port of our own", "others connect to it");
  add("in:", settings.in, "none", "Nothing", "the computer's keys and mouse");
  for (const auto& port : ports.inputs)
    add("in:", settings.in, port.name, port.name, port.api);
  list.items.push_back({"Your own sound", "", "", {}, false});
  list.items.push_back({"Heard through Landfall", "", "through", {}, !settings.own_sound});
  list.items.push_back({"Made by the instrument itself", "", "own-sound", {}, settings.own_sound});
  list.selected = 1;
  return list;
}

ChoiceList set_list(const std::string& present) {
  ChoiceList list;
  list.title = "Note sets";
  list.has_query = true;
  const auto add = [&](const std::string& name, const std::string& detail) {
    list.items.push_back({render::with_signs(name), detail, "set:" + name, {}, name == present});
    if (name == present)
      list.selected = static_cast<int>(list.items.size()) - 1;
  };
  const auto degrees_of = [](const std::vector<theory::Degree>& degrees) {
    std::string text;
    for (const auto degree : degrees)
      text += (text.empty() ? "" : " ") + render::with_signs(ascii(degree));
    return text;
  };
  add("fitting", "what suits each chord");
  add("arpeggio", "the chord's own tones");
  for (const auto& set : own_sets().own)
    add(set.name, degrees_of(set.degrees));
  for (const auto& scale : theory::all_scales())
    add(scale.name, degrees_of(scale.degrees));
  return list;
}

ChoiceList instrument_list(const std::string& present) {
  ChoiceList list;
  list.title = "Instruments";
  for (const auto& name : instrument_names()) {
    const auto instrument = load_instrument(name);
    const auto tuning = instrument ? neck::tuning_text(*instrument) : instrument.error();
    list.items.push_back({capital(instrument ? instrument->name : name),
                          render::with_signs(tuning),
                          "instrument:" + name,
                          {},
                          name == present});
  }
  std::stable_sort(list.items.begin(), list.items.end(),
                   [](const auto& a, const auto& b) { return a.text < b.text; });
  focus_chosen(list);
  return list;
}

ChoiceList tuning_list(const InstrumentChoice& present) {
  ChoiceList list;
  list.title = "Tuning";
  list.has_query = true;
  list.query_hint = "type one, low string first: D2 A2 D3 G3 B3 E4";
  list.typed = typed_tuning;
  const auto own = load_instrument(present.name);
  if (!own || own->strings.empty()) {
    list.lines = {"A keyboard is not tuned here."};
    return list;
  }
  const auto add = [&](const std::string& text, const std::string& tuning,
                       const std::string& value) {
    list.items.push_back(
        {text, render::with_signs(tuning), "tuning:" + value, {}, value == present.tuning});
    if (value == present.tuning)
      list.selected = static_cast<int>(list.items.size()) - 1;
  };
  add("As the " + own->name + " is", tuning_text(*own), "");
  for (const auto& name : instrument_names()) {
    const auto other = load_instrument(name);
    if (other && name != present.name && other->strings.size() == own->strings.size() &&
        tuning_text(*other) != tuning_text(*own))
      add("As the " + other->name + " is", tuning_text(*other), tuning_text(*other));
  }
  if (!present.tuning.empty() && !list.items[static_cast<std::size_t>(list.selected)].chosen) {
    add("Your own", present.tuning, present.tuning);
  }
  return list;
}

} // namespace landfall::app
