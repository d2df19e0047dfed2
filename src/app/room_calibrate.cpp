#include "app/calibrate_page.hpp"
#include "app/outputs.hpp"
#include "app/room.hpp"
#include "midi/message.hpp"

namespace landfall::app {
namespace {

constexpr int drums = 9, high_block = 76, low_block = 77; ///< General MIDI.
constexpr std::chrono::milliseconds click_length{50};

} // namespace

void Room::calibrate() {
  const auto port = desk_.port(player_input);
  if (port.empty())
    return say("connect an instrument first");
  if (conductor_.rolling())
    conductor_.stop();
  CalibratePage::Links links;
  links.port = short_name(port);
  links.click = [this](bool strong) {
    const auto now = Clock::now();
    const int note = strong ? high_block : low_block;
    conductor_.play_now(midi::note_on(drums, note, strong ? 112 : 96), now);
    std::this_thread::sleep_for(click_length); // on the clicker's thread
    conductor_.play_now(midi::note_off(drums, note), now + click_length);
  };
  links.keep = [this, port](const ear::Calibration& found) {
    remember_input(port, calibrated(setup_of(settings_.inputs, port), found));
    say("calibrated: " + ear::calibration_words(found));
  };
  toggle<CalibratePage>(std::move(links));
}

} // namespace landfall::app
