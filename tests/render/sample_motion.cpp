#include "render/sample_motion.hpp"

#include <algorithm>

namespace landfall::render::samples {

namespace {

constexpr double beats_in_a_frame = 96.0 / 3600.0;

/// All positions of a lane count from the present moment.
void move(Lane& lane, double beats) {
  for (LaneBar& bar : lane.bars)
    bar.beat -= beats;
  for (LaneChord& chord : lane.chords)
    chord.beat -= beats;
  for (TraceNote& note : lane.trace) {
    note.from -= beats;
    note.to -= note.to == 0 ? 0 : beats; // 0 is a note that still sounds
  }
  for (Verdict& verdict : lane.verdicts)
    verdict.beat -= beats;
  for (CallNote& note : lane.call)
    note.from -= beats, note.to -= beats;
  for (AnswerNote& note : lane.answer)
    note.beat -= beats, note.expected_beat -= beats;
  for (auto* edge : {&lane.standing_from, &lane.standing_to})
    if (*edge)
      **edge -= beats;
}

void close(Mark& mark, double beats) {
  if (mark.coming)
    mark.coming = std::min(1.0, *mark.coming + beats / 16);
}

void close(Neck& neck, double beats) {
  for (Place& place : neck.places)
    close(place.mark, beats);
}

void close(std::variant<Neck, Keyboard>& board, double beats) {
  if (auto* neck = std::get_if<Neck>(&board))
    close(*neck, beats);
  else
    for (Key& key : std::get<Keyboard>(board).keys)
      close(key.mark, beats);
}

} // namespace

Frame later(const Frame& frame, double beats) {
  Frame next = frame;
  move(next.lane, beats);
  close(next.board, beats);
  if (next.other)
    close(next.other->board, beats);
  if (auto* page = std::get_if<PlacesPage>(&next.page))
    for (PlacePanel& panel : page->panels)
      close(panel.neck, beats);
  if (next.reel)
    next.reel->at += beats / 400;
  return next;
}

std::vector<Frame> playing(const Frame& frame, int frames) {
  std::vector<Frame> all;
  for (int i = 0; i < frames; ++i)
    all.push_back(later(frame, i * beats_in_a_frame));
  return all;
}

} // namespace landfall::render::samples
