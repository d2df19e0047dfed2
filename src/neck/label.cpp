#include "neck/label.hpp"

#include "theory/words.hpp"

#include <algorithm>
#include <array>

namespace landfall::neck {
namespace {

std::string finger(const NeckNote& note, const Position& hand) {
  if (!note.fret)
    return "";
  if (*note.fret == 0)
    return "0";
  return std::to_string(std::clamp(*note.fret - std::max(hand.low, 1) + 1, 1, 4));
}

struct Layer {
  std::string_view name;
  bool Shown::*member;
};
constexpr std::array layers{
    Layer{"landing", &Shown::landing},         Layer{"set", &Shown::set},
    Layer{"chord-tones", &Shown::chord_tones}, Layer{"grip", &Shown::grip},
    Layer{"groups", &Shown::groups},           Layer{"grips", &Shown::grips}};

bool is_shown(const NeckNote& note, const Shown& shown) {
  if (shown.grip && note.in_grip)
    return true;
  switch (note.role) {
  case Role::landing:
    return shown.landing || (shown.set && note.in_set);
  case Role::set:
    return shown.set;
  case Role::chord:
    break;
  }
  return shown.chord_tones || (note.guide && shown.landing);
}

} // namespace

Result<LabelKind> parse_label_kind(std::string_view text) {
  constexpr std::array<std::pair<std::string_view, LabelKind>, 5> kinds{
      {{"degree", LabelKind::degree},
       {"key", LabelKind::key_degree},
       {"note", LabelKind::name},
       {"finger", LabelKind::finger},
       {"none", LabelKind::none}}};
  for (const auto& [name, kind] : kinds)
    if (name == lower_case(text))
      return kind;
  return TextError{"expected degree, key, note, finger or none"};
}

std::string label(const NeckNote& note, LabelKind kind, theory::Key key, const Position& hand) {
  switch (kind) {
  case LabelKind::degree:
    return ascii(note.degree);
  case LabelKind::key_degree:
    return ascii(theory::usual_degree(pitch_class(note.note) - pitch_class(key.tonic) + 12));
  case LabelKind::name:
    return ascii(note.note);
  case LabelKind::finger:
    return finger(note, hand);
  case LabelKind::none:
    break;
  }
  return "";
}

Result<Shown> parse_shown(std::string_view text) {
  auto lowered = lower_case(text);
  std::replace(lowered.begin(), lowered.end(), ',', ' ');
  const auto names = words(lowered);
  if (names.size() == 1 && names.front() == "all")
    return Shown{};
  Shown shown{false, false, false, false, false, false};
  for (const auto name : names) {
    const auto layer = std::find_if(layers.begin(), layers.end(),
                                    [&](const Layer& each) { return each.name == name; });
    if (layer == layers.end())
      return TextError{"'" + std::string(name) +
                       "' is no layer: expected landing, set, chord-tones, grip, groups, grips "
                       "with commas between, or all"};
    shown.*layer->member = true;
  }
  return shown;
}

void show_only(NeckView& view, const Shown& shown) {
  std::erase_if(view.notes, [&](const NeckNote& note) { return !is_shown(note, shown); });
  if (!shown.landing)
    for (auto& note : view.notes)
      if (note.role == Role::landing && note.in_set && shown.set)
        note.role = Role::set;
  if (!shown.grip)
    for (auto& note : view.notes)
      note.in_grip = false;
  if (!shown.groups)
    view.groups.clear();
  if (!shown.grips)
    view.grips.clear();
}

} // namespace landfall::neck
