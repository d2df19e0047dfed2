#include "app/board_moment.hpp"

#include <algorithm>
#include <cmath>

namespace landfall::app {
namespace {

/// `E shape in the same hand`, `E shape · frets 4–7`; on a keyboard what lies under the hand.
std::string about_words(const BoardMoment& moment) {
  const auto place = place_words(moment.setting);
  const auto& shape = moment.view.chord_shape;
  const auto& home = moment.setting.home.shape;
  if (!shape || !home || home->name == shape->name)
    return place;
  return std::string(1, shape->name) + " shape in the same hand";
}

std::string symbol(const std::optional<theory::Chord>& chord) {
  return chord ? render::with_signs(ascii(*chord)) : "no chord";
}

/// `coming: B♭7 in 2 beats` while the band plays.
std::string coming_words(const FrameInput& input, const PresentChord& chords, double tick) {
  const auto& performance = input.snapshot.timeline->performance;
  const auto later = performance.at(chords.to);
  if (!later)
    return "";
  if (!input.snapshot.transport.rolling)
    return "then " + symbol(chords.next);
  const auto beat = static_cast<double>(beat_length(later->bar->meter).count);
  const double left = static_cast<double>(chords.to.count) - std::max(tick, 0.0);
  const auto beats = std::max(1L, std::lround(std::ceil(left / beat - 1e-6)));
  return "coming: " + symbol(chords.next) + " in " + std::to_string(beats) +
         (beats == 1 ? " beat" : " beats");
}

} // namespace

render::Scene build_scene(const FrameInput& input, double tick) {
  const auto moment = board_moment(input, tick);
  const auto& view = *input.scene;
  render::Scene scene;
  scene.count = view.count;
  scene.title = view.title;
  scene.line = view.line;
  scene.bare = input.look.neck_only;
  scene.lane = input.trade.has_value() && !input.look.neck_only;
  scene.chord = chord_text(moment.chords.chord);
  scene.about = about_words(moment);
  scene.coming = coming_words(input, moment.chords, tick);
  return scene;
}

} // namespace landfall::app
