#include "app/data.hpp"
#include "app/room.hpp"

namespace landfall::app {
namespace {

std::vector<std::string> words_of(const practice::Lesson& lesson) {
  std::vector<std::string> words;
  for (const auto& scene : lesson.scenes) {
    words.push_back(scene.name);
    words.push_back(scene.say);
    words.insert(words.end(), scene.notes.begin(), scene.notes.end());
  }
  return words;
}

} // namespace

void Room::open_notes(int display) {
  if (notes_)
    return notes_.reset();
  render::WindowOptions options;
  options.title = "Landfall: your notes";
  options.font_folder = fonts_folder().string();
  options.size = {1000, 640};
  options.display = display;
  options.software = true;
  auto window = render::Window::open(options);
  if (!window)
    return say(window.error());
  notes_ = std::make_unique<NotesWindow>(std::move(*window));
}

/// The class's window keeps what is typed; clicks on a scene go there.
void Room::follow_notes() {
  if (!notes_)
    return;
  const auto asked = notes_->take_inputs();
  if (asked.closes)
    return notes_.reset();
  if (asked.scene)
    show_scene(*asked.scene);
  NotesWindow::Shown shown;
  shown.theme = settings_.look.theme;
  shown.text_scale = settings_.look.text_scale;
  shown.status = status_;
  if (lesson_) {
    shown.scene = lesson_->latest();
    shown.words = words_of(lesson_->file.lesson);
  }
  if (const auto moment = here(); moment && snapshot_.transport.rolling)
    shown.beat =
        "Bar " + std::to_string(moment->bar->number) + ", beat " +
        std::to_string(
            static_cast<int>(floor_div(moment->in_bar, beat_length(moment->bar->meter))) + 1);
  notes_->show(lesson_ ? &lesson_->file.lesson : nullptr, std::move(shown));
}

/// While the chalk is up, what is played is pointed at, or hidden or shown: where it was played,
/// else where it is lit, else under the hand.
void Room::draw_by_playing(int midi, std::optional<int> string) {
  if (chalk_mode_ == ChalkMode::down)
    return;
  const auto shown = frame();
  const auto* neck = std::get_if<render::Neck>(&shown.board);
  if (neck == nullptr)
    return use_chalk({0, midi});
  std::optional<PlaceKey> place;
  int best = -1;
  for (int each = 1; each <= static_cast<int>(neck->strings.size()); ++each) {
    const auto fret = fret_of(instrument_, each, midi);
    if (!fret || *fret < neck->first_fret || *fret > neck->last_fret || (string && *string != each))
      continue;
    const PlaceKey found{each, *fret};
    const bool in_hand = *fret >= neck->hand_low && *fret <= neck->hand_high;
    const int rank = is_lit(shown.board, found) ? 2 : in_hand ? 1 : 0;
    if (rank > best)
      place = found, best = rank;
  }
  if (place)
    use_chalk(*place);
}

} // namespace landfall::app
