#include "app/chalk.hpp"

#include "neck/fretboard.hpp"
#include "neck/label.hpp"

#include <algorithm>

namespace landfall::app {
namespace {

void toggle(std::set<PlaceKey>& places, PlaceKey place) {
  if (places.erase(place) == 0)
    places.insert(place);
}

PlaceKey key_of(const render::Place& place) {
  return {place.string, place.fret};
}
PlaceKey key_of(const render::Key& key) {
  return {0, key.midi};
}
render::Place made(PlaceKey place, const render::Place& /*kind*/) {
  return {place.string, place.fret, {}};
}
render::Key made(PlaceKey place, const render::Key& /*kind*/) {
  return {place.fret, {}};
}

std::optional<int> pitch_of(const neck::Instrument& instrument, PlaceKey place) {
  if (instrument.kind == neck::Instrument::Kind::keyboard)
    return place.fret;
  const neck::Fretboard board(instrument);
  return board.pitch(board.count - place.string, place.fret);
}

/// What would stand on a note if it were lit.
std::string label_of(const BoardMoment& moment, const Look& look, PlaceKey place) {
  const auto pitch = pitch_of(*moment.setting.instrument, place);
  if (!pitch)
    return "";
  const auto root = moment.chords.chord ? moment.chords.chord->root : moment.setting.key.tonic;
  neck::NeckNote note;
  note.string = place.string;
  note.fret = place.fret;
  note.midi = theory::MidiNote{*pitch};
  note.degree = theory::usual_degree((*pitch - pitch_class(root) + 120) % 12);
  note.note = note_at(root, note.degree);
  return render::with_signs(neck::label(note, look.labels, moment.setting.key, moment.view.hand));
}

template <typename Places> auto& place_in(Places& places, PlaceKey place) {
  const auto found = std::find_if(places.begin(), places.end(),
                                  [&](const auto& each) { return key_of(each) == place; });
  if (found != places.end())
    return *found;
  return places.emplace_back(made(place, typename Places::value_type{}));
}

template <typename Places>
void draw_on(Places& places, const Chalk& chalk, const BoardMoment& moment, const Look& look) {
  for (const auto place : chalk.shown)
    if (auto& mark = place_in(places, place).mark; mark.role == render::Role::none) {
      mark.role = render::Role::chord;
      mark.label = label_of(moment, look, place);
    }
  for (const auto place : chalk.hidden)
    place_in(places, place).mark.hidden = true;
  for (const auto place : chalk.pointed) {
    auto& mark = place_in(places, place).mark;
    mark.pointed_at = true;
  }
}

template <typename Places> bool lit_in(const Places& places, PlaceKey place) {
  return std::any_of(places.begin(), places.end(), [&](const auto& each) {
    return key_of(each) == place && each.mark.role != render::Role::none;
  });
}

} // namespace

void point_at(Chalk& chalk, PlaceKey place) {
  toggle(chalk.pointed, place);
}

void hide_or_show(Chalk& chalk, PlaceKey place, bool lit) {
  if (chalk.hidden.erase(place) > 0 || chalk.shown.erase(place) > 0)
    return;
  toggle(lit ? chalk.hidden : chalk.shown, place);
}

void circle(Chalk& chalk, PlaceKey from, PlaceKey to) {
  chalk.circles.push_back({from.string, from.fret, to.string, to.fret});
}

void draw(const Chalk& chalk, const BoardMoment& moment, const Look& look,
          std::variant<render::Neck, render::Keyboard>& board) {
  if (chalk.empty())
    return;
  if (auto* neck = std::get_if<render::Neck>(&board)) {
    draw_on(neck->places, chalk, moment, look);
    neck->circles = chalk.circles;
  } else {
    auto& keyboard = std::get<render::Keyboard>(board);
    draw_on(keyboard.keys, chalk, moment, look);
    keyboard.circles = chalk.circles;
  }
}

std::optional<PlaceKey> place_of(const render::Hit& hit) {
  if (const auto* place = std::get_if<render::HitPlace>(&hit))
    return PlaceKey{place->string, place->fret};
  if (const auto* key = std::get_if<render::HitKey>(&hit))
    return PlaceKey{0, key->midi};
  return std::nullopt;
}

bool is_lit(const std::variant<render::Neck, render::Keyboard>& board, PlaceKey place) {
  if (const auto* neck = std::get_if<render::Neck>(&board))
    return lit_in(neck->places, place);
  return lit_in(std::get<render::Keyboard>(board).keys, place);
}

} // namespace landfall::app
