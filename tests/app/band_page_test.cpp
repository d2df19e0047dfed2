#include "app/band_page.hpp"
#include "song/song.hpp"

#include <doctest/doctest.h>

#include <set>

using namespace landfall;
using namespace landfall::app;

namespace {

std::vector<BandRow> rows_of(const practice::Choice& choice) {
  return band_rows(choice, {}, neck::standard_guitar());
}

} // namespace

TEST_CASE(
    "every row of the band's page has words of its own below its heading and does something") {
  practice::Choice choice;
  choice.tempo = tempo_from_bpm(90);
  const auto rows = rows_of(choice);
  std::string heading;
  std::set<std::string> texts;
  for (const auto& row : rows) {
    if (!row.command)
      heading = row.text;
    CHECK(texts.insert(heading + row.text + row.detail).second);
    if (row.command && !row.chosen && row.text != "Never")
      CHECK_FALSE(with(choice, *row.command) == choice);
  }
  CHECK(rows.size() > 30);
}

TEST_CASE("what a row sets is what it shows as chosen afterwards") {
  practice::Choice choice;
  const auto rows = rows_of(choice);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (!rows[i].command)
      continue;
    CAPTURE(rows[i].text);
    const bool toggles = rows[i].detail.ends_with("on or off");
    const bool steps = rows[i].detail.ends_with("%");
    const auto after = with(choice, *rows[i].command);
    const auto again = rows_of(after);
    if (steps || std::holds_alternative<practice::SetTempoMoves>(*rows[i].command))
      continue;
    CHECK(again.at(i).chosen == (toggles ? !rows[i].chosen : true));
  }
}

TEST_CASE("rows are named by their number and headings by nothing") {
  const auto rows = rows_of({});
  const auto list = band_list(rows);
  REQUIRE(list.items.size() == rows.size());
  CHECK(band_row(rows, list.value()) == &rows[1]);
  CHECK(band_row(rows, "band:0") == nullptr);
  CHECK(band_row(rows, "band:999") == nullptr);
  CHECK(band_row(rows, "band:1x") == nullptr);
  CHECK(band_row(rows, "set:1") == nullptr);
}

TEST_CASE("the top line says what is not as usual") {
  practice::Choice choice;
  CHECK(arrangement_words(choice).empty());
  choice.arrangement.click = practice::Click::backbeats;
  choice.arrangement.drop_outs = {2, 4, true};
  CHECK(arrangement_words(choice) == "click on 2 and 4 · rests 2 in 4");
}
