#include "render/sdl_input.hpp"

#include <SDL_clipboard.h>
#include <SDL_events.h>
#include <SDL_keyboard.h>

namespace landfall::render {

namespace {

Point scaled(int x, int y, Size units, Size pixels) {
  if (units.width <= 0 || units.height <= 0)
    return {x, y};
  return {x * pixels.width / units.width, y * pixels.height / units.height};
}

/// The right Alt key is no Alt: on many layouts it makes the signs of a third level, and comes with
/// Ctrl on some systems.
KeyPress key_press(const SDL_KeyboardEvent& event) {
  const auto held = [&](int mask) { return (event.keysym.mod & mask) != 0; };
  const bool third_level = held(KMOD_RALT) || held(KMOD_MODE);
  return {SDL_GetKeyName(event.keysym.sym),
          "",
          held(KMOD_SHIFT),
          held(KMOD_CTRL) && !third_level,
          held(KMOD_LALT) || held(KMOD_GUI),
          event.repeat != 0};
}

bool pastes(const KeyPress& press) {
  return (press.control && press.name == "V") || (press.shift && press.name == "Insert");
}

/// What the clipboard holds; UTF-8.
std::string clipboard() {
  char* text = SDL_GetClipboardText();
  std::string copied = text == nullptr ? "" : text;
  SDL_free(text);
  return copied;
}

MouseButton button(int number) {
  return number == SDL_BUTTON_LEFT     ? MouseButton::left
         : number == SDL_BUTTON_MIDDLE ? MouseButton::middle
                                       : MouseButton::right;
}

void append_text(const char* text, std::vector<Input>& inputs) {
  auto* key = inputs.empty() ? nullptr : std::get_if<KeyPress>(&inputs.back());
  if (key != nullptr && key->text.empty())
    key->text = text;
  else
    inputs.emplace_back(TypedText{text});
}

void append_window(const SDL_WindowEvent& event, Size pixels, std::vector<Input>& inputs) {
  switch (event.event) {
  case SDL_WINDOWEVENT_SIZE_CHANGED:
    inputs.emplace_back(Resized{pixels});
    break;
  case SDL_WINDOWEVENT_EXPOSED:
    inputs.emplace_back(Exposed{});
    break;
  case SDL_WINDOWEVENT_FOCUS_LOST:
    inputs.emplace_back(FocusLost{});
    break;
  case SDL_WINDOWEVENT_CLOSE:
    inputs.emplace_back(CloseAsked{});
    break;
  default:
    break;
  }
}

} // namespace

void append_input(const SDL_Event& event, Size units, Size pixels, std::vector<Input>& inputs) {
  switch (event.type) {
  case SDL_KEYDOWN:
    if (auto press = key_press(event.key); pastes(press))
      inputs.emplace_back(TypedText{clipboard()});
    else
      inputs.emplace_back(std::move(press));
    break;
  case SDL_KEYUP:
    inputs.emplace_back(KeyRelease{SDL_GetKeyName(event.key.keysym.sym)});
    break;
  case SDL_TEXTINPUT:
    append_text(event.text.text, inputs);
    break;
  case SDL_MOUSEBUTTONDOWN:
    inputs.emplace_back(MousePress{scaled(event.button.x, event.button.y, units, pixels),
                                   button(event.button.button), event.button.clicks});
    break;
  case SDL_MOUSEBUTTONUP:
    inputs.emplace_back(MouseRelease{scaled(event.button.x, event.button.y, units, pixels),
                                     button(event.button.button)});
    break;
  case SDL_MOUSEMOTION:
    inputs.emplace_back(MouseMove{scaled(event.motion.x, event.motion.y, units, pixels)});
    break;
  case SDL_MOUSEWHEEL:
    inputs.emplace_back(MouseWheel{
        scaled(event.wheel.mouseX, event.wheel.mouseY, units, pixels),
        event.wheel.direction == SDL_MOUSEWHEEL_FLIPPED ? -event.wheel.y : event.wheel.y});
    break;
  case SDL_DROPFILE:
    inputs.emplace_back(FileDropped{event.drop.file});
    SDL_free(event.drop.file);
    break;
  case SDL_WINDOWEVENT:
    append_window(event.window, pixels, inputs);
    break;
  case SDL_QUIT:
    inputs.emplace_back(CloseAsked{});
    break;
  default:
    break;
  }
}

std::uint32_t window_of(const SDL_Event& event) {
  switch (event.type) {
  case SDL_WINDOWEVENT:
    return event.window.windowID;
  case SDL_MOUSEBUTTONDOWN:
  case SDL_MOUSEBUTTONUP:
    return event.button.windowID;
  case SDL_MOUSEMOTION:
    return event.motion.windowID;
  case SDL_MOUSEWHEEL:
    return event.wheel.windowID;
  default:
    return 0;
  }
}

bool pictures_lost(const SDL_Event& event) {
  return event.type == SDL_RENDER_TARGETS_RESET || event.type == SDL_RENDER_DEVICE_RESET ||
         (event.type == SDL_WINDOWEVENT && (event.window.event == SDL_WINDOWEVENT_EXPOSED ||
                                            event.window.event == SDL_WINDOWEVENT_SIZE_CHANGED));
}

} // namespace landfall::render
