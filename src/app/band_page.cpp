#include "app/band_page.hpp"

#include "app/words.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <initializer_list>
#include <utility>

namespace landfall::app {
namespace {

using practice::Arrangement;
using practice::Click;

class Rows {
public:
  Rows(const practice::Choice& choice, song::Meter meter, const neck::Instrument& instrument)
      : choice_(choice), meter_(meter),
        instrument_(std::make_shared<const neck::Instrument>(instrument)) {}

  std::vector<BandRow> all() {
    clicks();
    rests();
    playing();
    levels();
    keys();
    tempi();
    return std::move(rows_);
  }

private:
  void heading(std::string text) { rows_.push_back({std::move(text), "", std::nullopt, false}); }

  void add(std::string text, std::string detail, practice::Command command, bool chosen) {
    rows_.push_back({std::move(text), std::move(detail), std::move(command), chosen});
  }

  template <typename Change>
  void arrange(const std::string& text, const std::string& detail, Change change) {
    auto changed = choice_.arrangement;
    change(changed);
    add(text, detail, practice::SetArrangement{changed}, changed == choice_.arrangement);
  }

  void toggle(const std::string& text, const std::string& detail, bool Arrangement::*field) {
    auto changed = choice_.arrangement;
    changed.*field = !(changed.*field);
    add(text, detail, practice::SetArrangement{changed}, choice_.arrangement.*field);
  }

  void clicks() {
    heading("Click");
    arrange("No click", "", [](Arrangement& a) { a.click = Click::off; });
    arrange("Click on all beats", "", [](Arrangement& a) { a.click = Click::beats; });
    arrange("Click on 2 and 4", "", [](Arrangement& a) { a.click = Click::backbeats; });
  }

  void rests() {
    heading("The band rests");
    arrange("Never", "", [](Arrangement& a) { a.drop_outs.bars = 0; });
    for (const auto& [bars, of] :
         {std::pair{1, 4}, std::pair{2, 4}, std::pair{2, 8}, std::pair{4, 8}})
      arrange(std::to_string(bars) + " of every " + std::to_string(of) + " bars", "",
              [bars = bars, of = of](Arrangement& a) {
                a.drop_outs.bars = bars;
                a.drop_outs.of = of;
              });
    auto changed = choice_.arrangement;
    changed.drop_outs.click = !changed.drop_outs.click;
    add("A click goes on meanwhile", "on or off", practice::SetArrangement{changed},
        choice_.arrangement.drop_outs.click);
  }

  void playing() {
    heading("Playing");
    toggle("Drone only", "tonic and fifth, held; on or off", &Arrangement::drone);
    toggle("Looser", "a few milliseconds and shades; on or off", &Arrangement::humanised);
    for (const int bars : {1, 2})
      add(bars == 1 ? "One bar of count-in" : "Two bars of count-in", "from the next start",
          practice::SetCountIn{bars}, choice_.count_in_bars == bars);
  }

  void level(const char* name, band::Part part) {
    const auto& steps = practice::level_steps;
    const int now = choice_.arrangement.level[static_cast<std::size_t>(part)];
    const auto at = std::lower_bound(steps.begin(), steps.end(), now);
    const auto set = [&](const char* way, int percent) {
      auto changed = choice_.arrangement;
      changed.level[static_cast<std::size_t>(part)] = percent;
      add(std::string(name) + way, std::to_string(now) + " %", practice::SetArrangement{changed},
          false);
    };
    set(" softer", at == steps.begin() ? steps.front() : *std::prev(at));
    set(" louder",
        at == steps.end() || std::next(at) == steps.end() ? steps.back() : *std::next(at));
  }

  void levels() {
    heading("Levels");
    level("Drums", band::Part::drums);
    level("Bass", band::Part::bass);
    level("Comping", band::Part::comping);
    level("Click", band::Part::click);
  }

  void key_row(const std::string& text, const std::string& detail, int every, int half_steps,
               std::vector<theory::Key> keys) {
    practice::KeyMoves moves{every, half_steps, std::move(keys), instrument_};
    const auto& now = choice_.key_moves;
    const bool chosen = now.every > 0 && now.every == moves.every &&
                        now.half_steps == moves.half_steps && now.keys == moves.keys;
    add(text, detail, practice::SetKeyMoves{std::move(moves)}, chosen);
  }

  void keys() {
    heading("The key moves");
    const auto& now = choice_.key_moves;
    const int every = std::max(now.every, 1);
    add("Never", "", practice::SetKeyMoves{}, now.every == 0);
    key_row("Up a half step", "", every, 1, {});
    key_row("Up a whole step", "", every, 2, {});
    key_row("Up a fourth", "", every, 5, {});
    for (const auto& names :
         {std::array{"E", "A", "D", "G", "C"}, std::array{"F", "Bb", "Eb", "Ab", "Db"}}) {
      std::vector<theory::Key> list;
      std::string text = "Through";
      for (const char* name : names) {
        list.push_back(theory::parse_key(name).value());
        text += " " + key_words(list.back());
      }
      key_row(text, "", every, 0, list);
    }
    const bool any = now.every > 0;
    for (const int choruses : {1, 2, 4})
      key_row(choruses == 1 ? "Every chorus" : "Every " + std::to_string(choruses) + " choruses",
              "", choruses, any ? now.half_steps : 5, any ? now.keys : std::vector<theory::Key>{});
  }

  std::string beats(Tempo tempo) const {
    return std::to_string(std::lround(beats_per_minute(tempo, meter_)));
  }

  void tempi() {
    heading("The tempo moves");
    const auto& now = choice_.tempo_moves;
    add("Never", "", practice::SetTempoMoves{}, now.choruses == 0);
    if (now.choruses > 0)
      add("From " + beats(now.from) + " to " + beats(now.to), over(now.choruses),
          practice::SetTempoMoves{now}, true);
    for (const auto& [by, choruses] : {std::pair{10, 4}, std::pair{20, 4}, std::pair{20, 8},
                                       std::pair{40, 8}, std::pair{-20, 4}}) {
      const double to = std::clamp(beats_per_minute(choice_.tempo, meter_) + by, 20.0, 400.0);
      const practice::TempoMoves moves{choice_.tempo, song::tempo_from_beats(to, meter_), choruses};
      add("From " + beats(moves.from) + " to " + beats(moves.to), over(choruses),
          practice::SetTempoMoves{moves}, false);
    }
  }

  static std::string over(int choruses) { return "over " + std::to_string(choruses) + " choruses"; }

  const practice::Choice& choice_;
  song::Meter meter_;
  std::shared_ptr<const neck::Instrument> instrument_;
  std::vector<BandRow> rows_;
};

} // namespace

std::vector<BandRow> band_rows(const practice::Choice& choice, song::Meter meter,
                               const neck::Instrument& instrument) {
  return Rows(choice, meter, instrument).all();
}

ChoiceList band_list(const std::vector<BandRow>& rows) {
  ChoiceList list;
  list.title = "The band";
  list.lines = {"All of it changes while it plays, at the next bar."};
  for (std::size_t i = 0; i < rows.size(); ++i)
    list.items.push_back({rows[i].text,
                          rows[i].detail,
                          rows[i].command ? "band:" + std::to_string(i) : "",
                          {},
                          rows[i].chosen});
  list.selected = 1;
  return list;
}

const BandRow* band_row(const std::vector<BandRow>& rows, const std::string& value) {
  constexpr std::string_view prefix = "band:";
  std::size_t index = 0;
  const char* end = value.data() + value.size();
  if (!value.starts_with(prefix) ||
      std::from_chars(value.data() + prefix.size(), end, index).ptr != end)
    return nullptr;
  return index < rows.size() && rows[index].command ? &rows[index] : nullptr;
}

std::string arrangement_words(const practice::Choice& choice) {
  const auto& arrangement = choice.arrangement;
  std::string words;
  const auto add = [&](const std::string& more) { words += (words.empty() ? "" : " · ") + more; };
  if (arrangement.drone)
    add("drone");
  if (arrangement.click != Click::off)
    add(arrangement.click == Click::beats ? "click" : "click on 2 and 4");
  if (arrangement.drop_outs.bars > 0)
    add("rests " + std::to_string(arrangement.drop_outs.bars) + " in " +
        std::to_string(arrangement.drop_outs.of));
  if (choice.key_moves.every > 0)
    add("key moves");
  if (choice.tempo_moves.choruses > 0)
    add("tempo moves");
  return words;
}

} // namespace landfall::app
