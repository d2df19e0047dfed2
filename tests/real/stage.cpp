#include "real/stage.hpp"

#include <algorithm>

namespace landfall::real {
namespace {

constexpr int lead_channel = 2;

std::string lead(int note) {
  return std::to_string(lead_channel) + ":" + std::to_string(note);
}

bool has(const std::vector<std::string>& notes, const std::string& note) {
  return std::find(notes.begin(), notes.end(), note) != notes.end();
}

auto note_ons(const std::vector<Recorded>& recorded) {
  return std::count_if(recorded.begin(), recorded.end(),
                       [](const auto& entry) { return midi::is_note_on(entry.message); });
}

} // namespace

Stage::Stage() : keys(std::make_unique<JackClient>("keys")) {}

void Stage::open() {
  window = start({"A | D", "--tempo", "400", "--out", "studio:in1", "--in", "keys:out"});
  const bool shown = screen.focus(*window);
  INFO(window->err());
  REQUIRE(shown);
  if (!plays_on(0, 4)) // only the first start plays by itself
    screen.press("space");
  else
    screen.press("Escape"); // the first questions
  REQUIRE(plays_on());
  REQUIRE(eventually([&] { return keys->is_heard(); }));
}

bool Stage::plays_on(std::size_t input, int notes) const {
  const auto before = note_ons(heard(input));
  return eventually([&] { return note_ons(heard(input)) >= before + notes; },
                    std::chrono::seconds(4));
}

bool Stage::something_sounds(std::size_t input) const {
  return eventually([&] { return !hanging(heard(input)).empty(); });
}

bool Stage::silent(std::size_t input, std::chrono::milliseconds limit) const {
  return eventually([&] { return hanging(heard(input)).empty(); }, limit);
}

bool Stage::ends_what_sounds(std::size_t input, std::chrono::milliseconds limit) const {
  auto sounding = hanging(heard(input));
  std::size_t seen = heard(input).size();
  return eventually(
      [&] {
        const auto all = heard(input);
        for (; seen < all.size(); ++seen)
          if (midi::is_note_off(all[seen].message))
            std::erase(sounding, std::to_string(midi::channel_of(all[seen].message)) + ":" +
                                     std::to_string(midi::note_of(all[seen].message)));
        return sounding.empty();
      },
      limit);
}

bool Stage::hold(int note) const {
  return eventually([&] {
    keys->play(midi::note_on(0, note, 90)); // again, where the way to the output opens only now
    return eventually([&] { return is_held(note); }, std::chrono::milliseconds(300));
  });
}

bool Stage::is_held(int note) const {
  return has(hanging(heard()), lead(note));
}

} // namespace landfall::real
