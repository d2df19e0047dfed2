#include "app/settings_page.hpp"

#include "app/words.hpp"

#include <array>
#include <cmath>
#include <utility>

namespace landfall::app {
namespace {

class Rows {
public:
  Rows(ChoiceList& list, const Settings& settings, const neck::Instrument& instrument,
       const SettingsState& state)
      : list_(list), settings_(settings), look_(settings.look), instrument_(instrument),
        state_(state) {}

  void all() {
    played();
    sound();
    picture();
    board();
    program();
  }

private:
  void heading(const char* text) { list_.items.push_back({text, "", "", {}, false}); }

  void row(std::string text, std::string detail, std::string value, std::string back = {}) {
    list_.items.push_back(
        {std::move(text), std::move(detail), std::move(value), {}, false, {}, std::move(back)});
  }

  /// Two values: either way leads to the other.
  void flip(const char* text, bool value, const char* on, const char* off, const char* action) {
    row(text, value ? on : off, action, action);
  }

  void played() {
    heading("You play");
    row("Instrument", capital(instrument_.name), "do:instrument");
    if (instrument_.kind == neck::Instrument::Kind::keyboard)
      return;
    row("Tuning", render::with_signs(tuning_text(instrument_)), "tuning");
    row("Capo", instrument_.capo == 0 ? "none" : "fret " + std::to_string(instrument_.capo),
        "capo:1", "capo:-1");
    flip("The nut", look_.left_handed, "right", "left", "do:left-handed");
    flip("The low string", look_.seen_by_player, "at the top", "at the bottom",
         "do:seen-by-player");
    flip("Frets", look_.true_spacing, "as on the wood", "evenly spaced", "do:true-spacing");
  }

  void sound() {
    heading("Sound and MIDI");
    row("Ports", state_.ports, "do:ports");
    const char* other = settings_.own_sound ? "through" : "own-sound";
    row("Your sound", settings_.own_sound ? "the instrument's own" : "through Landfall", other,
        other);
    const bool low = settings_.latency == midi::Latency::low;
    const char* latency = low ? "latency:usual" : "latency:low";
    row("The built-in synth's delay", low ? "short" : "usual", latency, latency);
    if (!state_.latency.empty())
      row("How late you are heard", state_.latency, "do:calibrate");
    row("Switches, pads, knobs", "", "do:controls");
    row("How the rig keeps time", "", "do:rig");
  }

  void picture() {
    heading("Picture");
    flip("Theme", look_.theme == render::Theme::paper, "light", "dark", "do:theme");
    row("Text", std::to_string(std::lround(look_.text_scale * 100)) + " %", "do:text-larger",
        "do:text-smaller");
    flip("Full screen", state_.full_screen, "yes", "no", "do:full-screen");
  }

  void board() {
    constexpr std::array fading{"off", "slowly", "fast"};
    constexpr std::array labels{"degrees", "degrees of the key", "names", "fingers", "nothing"};
    const auto shown = [&](const char* text, bool value, const char* action) {
      flip(text, value, "shown", "hidden", action);
    };
    heading("Board");
    flip("Shown", look_.whole_board, "the whole neck", "the place at hand", "do:board");
    row("Written on the notes", labels.at(static_cast<std::size_t>(look_.labels)), "do:labels");
    shown("Landing notes", look_.landing, "do:landing-notes");
    shown("The set's other notes", look_.set_notes, "do:set-notes");
    shown("All chord tones", look_.chord_tones, "do:chord-tones");
    row("Lights fade as you land", fading.at(static_cast<std::size_t>(look_.fading)), "do:fading");
  }

  void program() {
    heading("Landfall");
    row("The first questions", "once more", "first-questions");
    row("All keys", "", "do:help");
    row("Close", "Escape", "do:back");
  }

  ChoiceList& list_;
  const Settings& settings_;
  const Look& look_;
  const neck::Instrument& instrument_;
  const SettingsState& state_;
};

} // namespace

ChoiceList settings_list(const Settings& settings, const neck::Instrument& instrument,
                         const SettingsState& state) {
  ChoiceList list;
  list.title = "Settings";
  list.beside = true;
  list.lines = {"All of it holds at once and is remembered; the band plays on."};
  list.hints = "Left Right change it";
  Rows(list, settings, instrument, state).all();
  list.selected = 1;
  return list;
}

void SettingsView::show(FrameInput& input) {
  auto list = make_();
  list.stay_as(view_.list);
  view_.list = std::move(list);
  view_.list.move(0);
  view_.show(input);
}

} // namespace landfall::app
