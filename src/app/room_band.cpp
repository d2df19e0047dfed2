#include "app/band_page.hpp"
#include "app/room.hpp"
#include "app/words.hpp"

namespace landfall::app {

/// A feel that was changed is heard from the next chorus that is planned.
void Room::look_at_feels() {
  const auto now = Clock::now();
  if (now < feels_due_)
    return;
  feels_due_ = now + std::chrono::seconds(1);
  if (auto line = feels_->refresh(); !line.empty())
    say(std::move(line));
}

void Room::end_now() {
  if (!conductor_.rolling())
    return say("nothing plays");
  conductor_.apply(practice::End{});
  say("the band ends the song");
}

void Room::next_click() {
  using practice::Click;
  auto arrangement = choice().arrangement;
  const auto now = arrangement.click;
  arrangement.click = now == Click::off     ? Click::beats
                      : now == Click::beats ? Click::backbeats
                                            : Click::off;
  conductor_.apply(practice::SetArrangement{arrangement});
  say(now == Click::off     ? "click on all beats"
      : now == Click::beats ? "click on 2 and 4"
                            : "no click");
}

ChoiceList Room::band_choices() {
  auto list = band_list(band_rows(choice(), snapshot_.song->meter, instrument_));
  list.items.push_back({"Type keys, or a tempo from A to B", "", "moves", {}, false});
  return list;
}

void Room::show_band() {
  show_list(band_choices());
}

void Room::choose_band(const std::string& value) {
  const auto rows = band_rows(choice(), snapshot_.song->meter, instrument_);
  const auto* row = band_row(rows, value);
  if (row == nullptr)
    return;
  conductor_.apply(*row->command);
  show_list_again(band_choices());
  const auto words = arrangement_words(choice());
  say(words.empty() ? "the band plays as usual" : words);
}

} // namespace landfall::app
