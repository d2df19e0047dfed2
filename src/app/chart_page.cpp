#include "app/chart_page.hpp"

#include "app/field_keys.hpp"
#include "theory/recognise.hpp"
#include "theory/words.hpp"

namespace landfall::app {
namespace {

constexpr std::chrono::seconds keeps_every{1};
constexpr std::size_t fewest_notes = 2;

} // namespace

void ChartPage::show(FrameInput& input) {
  input.page = chart_.page();
  input.hints = std::string("F4 ") + (chart_.halves() ? "whole bars" : "half bars") +
                "  F3 other reading  Ctrl+Z undo  Tab next field  Ctrl+S save  Ctrl+Return hear";
  if (input.now < keep_due_)
    return;
  keep_due_ = input.now + keeps_every;
  if (auto draft = chart_.draft_text(); draft != kept_)
    calls_.keep(kept_ = std::move(draft));
}

void ChartPage::let_go() {
  calls_.keep(chart_.draft_text());
  close();
}

bool ChartPage::press(const render::KeyPress& press) {
  if (press_command(press) || press_in(chart_.focused(), press))
    return true;
  const auto steps = fields_on(chart_.focused(), press);
  return steps && (chart_.next_field(*steps), true);
}

bool ChartPage::press_command(const render::KeyPress& press) {
  const auto is = [&](std::string_view name, bool control) {
    return press.name == name && press.control == control;
  };
  if (is("Return", true) || is("F5", false))
    return hear_it(), true;
  if (is("S", true))
    return save(), true;
  if (is("F3", false))
    return chart_.next_reading() || (calls_.say("play a chord first"), true);
  if (is("F4", false))
    return chart_.toggle_halves(), true;
  return false;
}

void ChartPage::type(std::string_view text) {
  chart_.focused().insert(text);
}

void ChartPage::click(const render::Hit& hit, render::MouseButton) {
  const auto* field = std::get_if<render::HitField>(&hit);
  if (field == nullptr || field->index < 0 ||
      static_cast<std::size_t>(field->index) >= QuickChart::field_count)
    return;
  chart_.set_focus(static_cast<QuickChart::Field>(field->index));
  chart_.focused().to(field->caret);
}

void ChartPage::scroll(int steps) {
  scroll_in(chart_.focused(), steps);
}

/// A chord is what was struck until every finger is up again.
bool ChartPage::hear(const midi::InputEvent& event) {
  const auto* note = std::get_if<midi::NoteEvent>(&event);
  if (note == nullptr)
    return false;
  if (note->on) {
    held_.insert(note->note);
    struck_.push_back(theory::MidiNote{note->note});
    return false;
  }
  held_.erase(note->note);
  if (!held_.empty() || struck_.size() < fewest_notes) {
    if (held_.empty())
      struck_.clear();
    return false;
  }
  auto choices = theory::recognised_chords(struck_, chart_.key_now());
  struck_.clear();
  if (choices.empty())
    calls_.say("no chord that could be named");
  chart_.add_chord(std::move(choices));
  return false;
}

void ChartPage::hear_it() {
  const auto read = chart_.read();
  if (read.song)
    calls_.hear(*read.song);
  else
    calls_.say(read.problem.empty() ? "nothing is written yet" : "it cannot be read yet");
}

void ChartPage::save() {
  const auto read = chart_.read();
  if (!read.song)
    return calls_.say(read.problem.empty() ? "nothing is written yet"
                                           : "only what can be read is saved; the draft is kept");
  const std::string title(trimmed(chart_.field(QuickChart::title).text()));
  if (title.empty()) {
    chart_.set_focus(QuickChart::title);
    return calls_.say("what is it called?");
  }
  calls_.save(chart_.song_text(), title, asked_over_ == title);
  asked_over_ = title; // asked once; it is this one's from now on
}

} // namespace landfall::app
