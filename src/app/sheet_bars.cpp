#include "app/sheet_bars.hpp"

#include "app/words.hpp"

#include <cmath>

namespace landfall::app::sheet {
namespace {

std::string passes(const song::Ending& ending) {
  const auto first = std::to_string(ending.first_pass);
  return ending.last_pass == ending.first_pass
             ? first + "."
             : first + ".–" + std::to_string(ending.last_pass) + ".";
}

/// Goes through a chart and remembers what holds.
class Reader {
public:
  Reader(const song::Song& song, const song::Form& form)
      : song_(song), form_(form), holds_(context(song)),
        half_steps_((pitch_class(form.key.tonic) - pitch_class(song.key.tonic) + 12) % 12) {}

  ChartSection section(const std::string& name, const std::vector<song::Passage>& passages) {
    ChartSection section{name, {}};
    for (const auto& passage : passages)
      add(section.cells, passage);
    if (!section.cells.empty() && section.cells.back().end == ChartCell::End::plain)
      section.cells.back().end = ChartCell::End::twofold;
    return section;
  }

private:
  void add(std::vector<ChartCell>& cells, const song::Passage& passage) {
    const auto first = cells.size();
    for (const auto& bar : passage.bars)
      cells.push_back(cell(bar));
    for (const auto& ending : passage.endings)
      add(cells, ending, &ending == &passage.endings.back());
    if (passage.times == 1 || cells.size() == first)
      return;
    cells[first].opens_repeat = true;
    if (!passage.endings.empty())
      return;
    cells.back().end = ChartCell::End::repeat;
    if (passage.times > 2)
      cells.back().times = std::to_string(passage.times) + " times";
  }

  void add(std::vector<ChartCell>& cells, const song::Ending& ending, bool last) {
    const auto first = cells.size();
    for (const auto& bar : ending.bars) {
      cells.push_back(cell(bar));
      cells.back().under_ending = true;
    }
    if (cells.size() == first)
      return;
    cells[first].ending = passes(ending);
    cells.back().end = last ? ChartCell::End::twofold : ChartCell::End::repeat;
  }

  ChartCell cell(const song::ChartBar& bar) {
    ChartCell cell;
    cell.meter = bar.context.meter;
    cell.meter_shown = first_ || bar.context.meter != holds_.meter;
    cell.space = bar.space;
    cell.change = change(bar.context);
    for (auto chord : bar.chords) {
      if (chord.chord)
        chord.chord = moved(*chord.chord, bar.context.key);
      cell.chords.push_back(std::move(chord));
    }
    holds_ = bar.context;
    first_ = false;
    return cell;
  }

  std::string change(const song::Context& context) const {
    std::string words;
    const auto add_words = [&](const std::string& more) {
      words += (words.empty() ? "" : ", ") + more;
    };
    if (context.key != holds_.key)
      add_words("key of " + key_words(moved(context.key)));
    if (context.tempo != holds_.tempo)
      add_words(std::to_string(std::lround(beats_per_minute(context.tempo, context.meter))) +
                " beats a minute");
    if (context.feel != holds_.feel)
      add_words(feel_words(context.feel));
    return words;
  }

  theory::Key moved(theory::Key key) const {
    return key == song_.key ? form_.key : theory::usual_key(theory::transposed(key, half_steps_));
  }
  theory::Chord moved(const theory::Chord& chord, theory::Key key) const {
    return key == moved(key) ? chord : theory::transposed(chord, key, moved(key));
  }

  const song::Song& song_;
  const song::Form& form_;
  song::Context holds_;
  int half_steps_;
  bool first_ = true;
};

bool as_they_stand(const song::Song& song) {
  for (std::size_t i = 0; i < song.order.size(); ++i)
    if (song.order[i] != static_cast<int>(i))
      return false;
  return song.order.size() == song.sections.size();
}

} // namespace

std::vector<ChartSection> chart_sections(const song::Song& song, const song::Form& form) {
  Reader reader(song, form);
  std::vector<ChartSection> all;
  if (!song.pickup.empty())
    all.push_back(reader.section("Pick-up", {{song.pickup, 1, {}}}));
  for (const auto& section : song.sections)
    all.push_back(reader.section(section.name, section.passages));
  if (!all.empty() && !all.back().cells.empty() &&
      all.back().cells.back().end == ChartCell::End::twofold)
    all.back().cells.back().end = ChartCell::End::last;
  return all;
}

std::string form_words(const song::Song& song) {
  if (as_they_stand(song))
    return "";
  std::string words;
  for (const int index : song.order)
    words += (words.empty() ? "" : ", ") + song.sections[static_cast<std::size_t>(index)].name;
  return words;
}

} // namespace landfall::app::sheet
