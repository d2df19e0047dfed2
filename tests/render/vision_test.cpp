#include "render/fake_metrics.hpp"
#include "render/forms.hpp"
#include "render/grounds.hpp"
#include "render/layout.hpp"
#include "render/samples_at.hpp"
#include "render/vision.hpp"

#include <doctest/doctest.h>

// What is left of the picture for eyes that lack one kind of cones: every mark must still stand
// out, and every role must have a form of its own.

using namespace landfall::render;
using namespace checks;

namespace {

using Eye = std::function<Color(Color)>;

struct NamedEye {
  const char* name;
  Eye sees;
};

std::vector<NamedEye> eyes() {
  return {{"usual", [](Color c) { return c; }},
          {"protanopia", [](Color c) { return seen_by(Vision::protanopia, c); }},
          {"deuteranopia", [](Color c) { return seen_by(Vision::deuteranopia, c); }},
          {"tritanopia", [](Color c) { return seen_by(Vision::tritanopia, c); }}};
}

/// What a place may show, by the name of its role.
struct NamedMark {
  const char* name;
  Mark mark;
  std::optional<Sounds> sounds;
};

Mark mark(Role role, const char* label = "") {
  Mark out;
  out.role = role;
  out.label = label;
  return out;
}

Mark with(Mark mark, bool reach, bool in_grip, bool coming = false) {
  mark.reach = reach;
  mark.in_grip = in_grip;
  if (coming)
    mark.coming = 0.6;
  mark.common = coming && mark.role == Role::landing;
  return mark;
}

std::vector<NamedMark> board_roles() {
  const Mark landing = mark(Role::landing, "3"), set = mark(Role::set),
             chord = mark(Role::chord, "3"), none = mark(Role::none, "3");
  return {{"landing", landing, {}},
          {"landing, by reach", with(landing, true, false), {}},
          {"landing, in the grip", with(landing, false, true), {}},
          {"landing, stays", with(landing, false, false, true), {}},
          {"set", set, {}},
          {"set, coming", with(set, false, false, true), {}},
          {"chord", chord, {}},
          {"chord, by reach", with(chord, true, false), {}},
          {"chord, in the grip", with(chord, false, true), {}},
          {"chord, coming", with(chord, false, false, true), {}},
          {"in the grip alone", with(none, false, true), {}},
          {"coming", with(mark(Role::none), false, false, true), {}},
          {"a landing note sounds", landing, Sounds::landing},
          {"a landing note sounds as one of the set", landing, Sounds::set},
          {"a landing note of the call", landing, Sounds::call},
          {"sounds: landing", mark(Role::none), Sounds::landing},
          {"sounds: set", mark(Role::none), Sounds::set},
          {"sounds: outside", mark(Role::none), Sounds::outside},
          {"sounds: call", mark(Role::none), Sounds::call},
          {"set sounds", set, Sounds::set},
          {"set of the call", set, Sounds::call}};
}

Frame on_neck(const NamedMark& role) {
  Frame frame;
  Neck neck;
  neck.strings.resize(6);
  neck.first_fret = 3;
  neck.last_fret = 8;
  neck.hand_low = 4;
  neck.hand_high = 7;
  neck.places = {{2, 5, role.mark}};
  if (role.sounds)
    neck.sounding = {{2, 5, 0.0, 1.0, *role.sounds}};
  frame.board = neck;
  return frame;
}

Frame on_key(int midi, const NamedMark& role) {
  Frame frame;
  Keyboard keyboard;
  keyboard.lowest = 48;
  keyboard.highest = 76;
  keyboard.hand_low = 55;
  keyboard.hand_high = 70;
  keyboard.keys = {{midi, role.mark}};
  if (role.sounds)
    keyboard.sounding = {{midi, 0.0, 1.0, *role.sounds}};
  frame.board = keyboard;
  return frame;
}

struct NamedFrame {
  std::string name;
  Frame frame;
};
using Family = std::vector<NamedFrame>; ///< The first shows nothing; the others one role each.

template <typename Draw> Family board(Draw draw) {
  Mark hidden;
  hidden.hidden = true;
  Family family{{"nothing", draw(NamedMark{"nothing", hidden, {}})}};
  for (const NamedMark& role : board_roles())
    family.push_back({role.name, draw(role)});
  return family;
}

Frame lane_with(const std::function<void(Lane&)>& add, bool standing = false) {
  Frame frame;
  LaneBar bar;
  bar.beat = -4.0;
  frame.lane.bars = {bar};
  if (standing)
    frame.lane.standing_from = -4.0;
  add(frame.lane);
  return frame;
}

Family lane() {
  const auto verdict = [](VerdictMark mark) {
    return lane_with([mark](Lane& lane) { lane.verdicts = {{-2.0, mark, "3"}}; });
  };
  const auto played = [](bool landed) {
    return lane_with([landed](Lane& lane) { lane.trace = {{-3.0, -2.0, 0.5, landed}}; });
  };
  return {{"nothing", lane_with([](Lane&) {})},
          {"landed", verdict(VerdictMark::landed)},
          {"late", verdict(VerdictMark::late)},
          {"other", verdict(VerdictMark::other)},
          {"played", played(false)},
          {"played, landed", played(true)}};
}

Frame called() {
  return lane_with([](Lane& lane) { lane.call = {{-3.5, -3.0, 0.8}, {-3.0, -2.0, 0.5}}; }, true);
}

/// Answers, over the call.
Family turn() {
  const auto answered = [](const AnswerNote& note) {
    Frame frame = called();
    frame.lane.answer = {note};
    return frame;
  };
  return {{"nothing", called()},
          {"right", answered({-3.0, 0.5, true, -3.0, 0.5, ""})},
          {"right, behind", answered({-2.8, 0.5, true, -3.0, 0.5, ""})},
          {"wrong", answered({-3.0, 0.5, false, -3.0, 0.5, ""})},
          {"wrong, by so much", answered({-3.0, 0.7, false, -3.0, 0.5, ""})}};
}

/// Pairs of roles that an eye cannot tell apart.
std::string confused(Family family, Theme theme, Size size, const Eye& eye) {
  const FakeMetrics metrics;
  std::vector<std::vector<Part>> forms;
  for (NamedFrame& each : family)
    each.frame.theme = theme;
  const DrawList nothing = layout(family.front().frame, size, metrics);
  for (const NamedFrame& each : family)
    forms.push_back(form_of(layout(each.frame, size, metrics), nothing, eye));
  std::string found;
  for (std::size_t a = 0; a < family.size(); ++a)
    for (std::size_t b = a + 1; b < family.size(); ++b)
      if (!told_apart(forms[a], forms[b]))
        found += family[a].name + " = " + family[b].name + "; ";
  return found;
}

void check(const Family& family) {
  for (const NamedEye& eye : eyes())
    for (const Theme theme : {Theme::stage, Theme::paper})
      for (const Size size : samples::usual_sizes) {
        INFO(eye.name << (theme == Theme::stage ? " stage " : " paper ") << size.width);
        CHECK(confused(family, theme, size, eye.sees) == "");
      }
}

} // namespace

TEST_CASE("grays look the same to every eye, and reds darker to one without their cones") {
  for (const Vision vision : visions)
    for (const std::uint32_t gray : {0x000000U, 0x808080U, 0xFFFFFFU})
      CHECK(seen_by(vision, rgb(gray)) == rgb(gray));
  CHECK(luminance(seen_by(Vision::protanopia, rgb(0xFF0000))) < 0.6 * luminance(rgb(0xFF0000)));
  CHECK(seen_by(Vision::deuteranopia, rgb(0xFF0000)).blue < 10);
}

TEST_CASE("words and marks stand out for eyes that lack a kind of cones") {
  const FakeMetrics metrics;
  for (const NamedEye& eye : eyes())
    samples::each_at(samples::usual_sizes, {1.0}, [&](const auto& at) {
      INFO(eye.name << " " << at.words());
      CHECK(faint(layout(samples::at_full_brightness(at.frame), at.size, metrics),
                  palette(at.frame.theme), {4.5, 4.5, 3.0}, eye.sees) == "");
    });
}

TEST_CASE("every role on a neck has a form of its own") {
  check(board(on_neck));
}

TEST_CASE("every role on white and black keys has a form of its own") {
  for (const int midi : {60, 61})
    check(board([midi](const NamedMark& role) { return on_key(midi, role); }));
}

TEST_CASE("verdicts, and what was played, have forms of their own") {
  check(lane());
}

TEST_CASE("the call, right answers and wrong ones have forms of their own") {
  check(turn());
  check({{"nothing", lane_with([](Lane&) {}, true)}, {"call", called()}});
}

TEST_CASE("a red that only some eyes see, and a role that differs in hue alone, are found") {
  const FakeMetrics metrics;
  const Eye protanope = [](Color c) { return seen_by(Vision::protanopia, c); };
  DrawList list = layout(samples::jam(), {1280, 720}, metrics);
  for (Command& command : list.commands)
    if (auto* disc = std::get_if<Disc>(&command))
      disc->color = disc->color == stage_palette.sand ? rgb(0xF01818) : disc->color;
  const Contrasts marks{0, 0, 3.0};
  CHECK(faint(list, stage_palette, marks) == "");
  CHECK(faint(list, stage_palette, marks, protanope) != "");

  Family family = board(on_neck);
  family.push_back(family[1]); // as it were in another colour
  CHECK(confused(family, Theme::stage, {1280, 720}, protanope) != "");
  const DrawList nothing = layout(family[0].frame, {1280, 720}, metrics);
  DrawList landing = layout(family[1].frame, {1280, 720}, metrics), other = landing;
  auto& disc =
      std::get<Disc>(*std::find_if(other.commands.begin(), other.commands.end(), [](auto& c) {
        return std::holds_alternative<Disc>(c) && std::get<Disc>(c).color == stage_palette.sand;
      }));
  disc.color = stage_palette.tide;
  CHECK(!told_apart(form_of(landing, nothing, protanope), form_of(other, nothing, protanope)));
  disc.radius *= 0.8F;
  CHECK(told_apart(form_of(landing, nothing, protanope), form_of(other, nothing, protanope)));
}
