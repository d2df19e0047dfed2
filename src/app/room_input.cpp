#include "app/own_sets.hpp"
#include "app/places_page.hpp"
#include "app/room.hpp"
#include "app/setting.hpp"
#include "midi/message.hpp"
#include "render/hit.hpp"

#include <algorithm>

namespace landfall::app {
namespace {

constexpr int mouse_channel = 1000; ///< Beyond MIDI's, so that nothing else ends its notes.
constexpr int keys_channel = 1001;
constexpr int usual_velocity = 92;

template <typename... Cases> struct Overload : Cases... { using Cases::operator()...; };
template <typename... Cases> Overload(Cases...) -> Overload<Cases...>;

} // namespace

void Room::take(const render::Input& input) {
  std::visit(Overload{
                 [&](const render::KeyPress& key) { press(key); },
                 [&](const render::KeyRelease& key) {
                   if (const auto note = typed_.extract(key.name))
                     let_go(note.mapped());
                 },
                 [&](const render::TypedText& text) {
                   if (auto* page = top_page())
                     page->type(text.text);
                 },
                 [&](const render::MousePress& mouse) { click(mouse); },
                 [&](const render::MouseMove& mouse) {
                   if (button_down_)
                     dragged_to_ = mouse.at;
                 },
                 [&](const render::MouseRelease& release) {
                   draw_chalk(release);
                   drag();
                   button_down_ = false;
                   if (auto* page = top_page())
                     page->release();
                   if (clicked_)
                     let_go(*std::exchange(clicked_, std::nullopt));
                 },
                 [&](const render::MouseWheel& wheel) {
                   if (auto* page = top_page())
                     page->scroll(wheel.steps);
                 },
                 [&](const render::FileDropped& file) {
                   if (file.path.ends_with(".lesson"))
                     choose_lesson("lesson:" + file.path);
                   else
                     choose_song(file.path);
                 },
                 [&](const render::FocusLost&) {
                   for (const auto& [key, source] : std::exchange(typed_, {}))
                     let_go(source);
                 },
                 [&](const render::CloseAsked&) { quit_ = true; },
                 [](const auto&) {},
             },
             input);
}

void Room::press(const render::KeyPress& press) {
  if (auto* page = top_page(); page != nullptr && page->press(press))
    return;
  if (typing_notes_ && !press.control && !press.alt && press_as_note(press))
    return;
  if (const auto action = action_of(press))
    perform(*action);
}

bool Room::press_as_note(const render::KeyPress& press) {
  const auto position = setting_of(instrument_, choice()).home;
  const auto note = typed_note(press.name, press.shift, instrument_, position);
  if (!note)
    return false;
  if (press.repeated || typed_.contains(press.name))
    return true;
  const Hands::Source source{keys_channel, note->midi};
  typed_[press.name] = source;
  sound(source, usual_velocity, note->string, note->fret);
  return true;
}

/// Once for all that the mouse moved since the last look: a frame is laid out for it.
void Room::drag() {
  const auto to = std::exchange(dragged_to_, std::nullopt);
  if (auto* page = top_page(); page != nullptr && to)
    page->drag(frame(), window_->size(), *to);
}

void Room::click(const render::MousePress& press) {
  if (take_chalk(press))
    return;
  button_down_ = true;
  auto* page = top_page();
  if (press.clicks == 1)
    clicked_page_ = page != nullptr;
  else if (page == nullptr && clicked_page_)
    return; // the first of these clicks closed it
  const auto found = hit(frame(), press.at);
  if (page != nullptr)
    page->click(found, press.button);
  click_on_picture(found);
}

render::Hit Room::hit(const render::Frame& frame, render::Point at) const {
  return render::hit(frame, window_->size(), window_->fonts(), at);
}

void Room::click_on_picture(const render::Hit& hit) {
  std::visit(Overload{
                 [&](const render::HitPlace& place) {
                   const neck::Fretboard board(instrument_);
                   if (const auto pitch = board.pitch(board.count - place.string, place.fret)) {
                     clicked_ = Hands::Source{mouse_channel, *pitch};
                     sound(*clicked_, usual_velocity, place.string, place.fret);
                   }
                 },
                 [&](const render::HitKey& key) {
                   clicked_ = Hands::Source{mouse_channel, key.midi};
                   sound(*clicked_, usual_velocity, {}, {});
                 },
                 [&](const render::HitPanel& panel) {
                   const auto places = places_of(instrument_, choice().key);
                   if (panel.index >= 0 && static_cast<std::size_t>(panel.index) < places.size())
                     choose_place(places[static_cast<std::size_t>(panel.index)]);
                 },
                 [&](const render::HitScene& scene) { click_on_scene(scene.part); },
                 [&](const render::HitStatus& status) { click_on_status(status.part); },
                 [&](const render::HitHint& hint) { click_on_hint(hint); },
                 [&](const render::HitClose&) {
                   click_on_hint({"Escape", 0});
                 },
                 [](const auto&) {},
             },
             hit);
}

Hands::Strike Room::strike_at(TimePoint when, int midi) const {
  Hands::Strike strike;
  strike.when = when;
  strike.tick = tick_now(when);
  strike.kind = class_at(when, midi);
  return strike;
}

void Room::sound(Hands::Source source, int velocity, std::optional<int> string,
                 std::optional<int> fret) {
  const auto now = Clock::now();
  auto strike = strike_at(now, source.midi);
  strike.string = string;
  strike.fret = fret;
  hands_.strike(source, strike);
  tell_ear_typed(source.midi, velocity, true);
  conductor_.play_now(midi::note_on(lead_channel, source.midi, velocity), now);
  changed_ = true;
}

void Room::let_go(Hands::Source source) {
  const auto now = Clock::now();
  hands_.release(source, now, tick_now(now));
  tell_ear_typed(source.midi, 0, false);
  conductor_.play_now(midi::note_off(lead_channel, source.midi), now);
  changed_ = true;
}

void Room::hear(const midi::InputEvent& event, std::uint8_t input) {
  if (input != player_input)
    return hear_teacher(event);
  if (auto* page = top_page(); page != nullptr && page->hear(event))
    return;
  if (const auto* note = std::get_if<midi::NoteEvent>(&event)) {
    const Hands::Source source{note->channel, note->note};
    auto strike = strike_at(note->time, note->note);
    strike.string = note->string;
    if (note->string)
      strike.fret = fret_of(instrument_, *note->string, note->note);
    if (note->on)
      draw_by_playing(note->note, note->string);
    if (note->on)
      hands_.strike(source, strike);
    else
      hands_.release(source, note->time, tick_now(note->time));
    tell_ear(event, note->time, note->channel);
  } else if (const auto* bend = std::get_if<midi::BendEvent>(&event)) {
    hands_.bend(bend->channel, bend->cents / 100.0);
    tell_ear(event, bend->time, bend->channel);
  } else if (const auto* pedal = std::get_if<midi::PedalEvent>(&event)) {
    tell_ear(event, pedal->time, pedal->channel);
  }
}

} // namespace landfall::app
