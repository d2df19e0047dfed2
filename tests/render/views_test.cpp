#include "render/bands.hpp"
#include "render/fake_metrics.hpp"
#include "render/fonts.hpp"
#include "render/layout.hpp"
#include "render/neck_geometry.hpp"
#include "render/places.hpp"
#include "render/sample_frames.hpp"

#include <doctest/doctest.h>

#include <initializer_list>
#include <random>

using namespace landfall::render;

namespace {

constexpr Size hd{1920, 1080};
constexpr Size sizes[] = {{800, 450}, {1024, 768}, {1280, 720}, {1920, 1080}, {3440, 1440}};

template <typename C> std::vector<C> all_of(const Frame& frame, Size size = hd) {
  const FakeMetrics metrics;
  const DrawList list = layout(frame, size, metrics);
  std::vector<C> out;
  for (const Command& command : list.commands)
    if (const auto* c = std::get_if<C>(&command))
      out.push_back(*c);
  return out;
}

bool says(const Frame& frame, std::string_view text, Size size = hd) {
  const auto texts = all_of<Text>(frame, size);
  return std::any_of(texts.begin(), texts.end(), [&](const Text& t) { return t.text == text; });
}

/// An empty neck of frets 3 to 8.
Frame bare() {
  Frame frame;
  Neck neck;
  neck.strings.resize(6);
  neck.first_fret = 3;
  neck.last_fret = 8;
  frame.board = neck;
  return frame;
}

Neck& neck_of(Frame& frame) {
  return std::get<Neck>(frame.board);
}

NeckGroup triad(int low, std::array<int, 3> frets, std::string name) {
  return {{{{low, frets[0]}, {low - 1, frets[1]}, {low - 2, frets[2]}}},
          std::move(name),
          GroupKind::triad,
          false,
          false};
}

} // namespace

TEST_CASE("a grip's note has a rim beside its role, whatever that is") {
  for (const Role role : {Role::none, Role::landing, Role::set, Role::chord}) {
    Mark mark;
    mark.role = role;
    mark.label = "2";
    Frame without = bare(), with = bare();
    neck_of(without).places = {{2, 5, mark}};
    mark.in_grip = true;
    neck_of(with).places = {{2, 5, mark}};
    const auto rims = all_of<Ring>(with), before = all_of<Ring>(without);
    REQUIRE_FALSE(rims.empty());
    const auto thickest = [](const std::vector<Ring>& rings) {
      float most = 0;
      for (const Ring& ring : rings)
        most = std::max(most, ring.stroke);
      return most;
    };
    CHECK(thickest(rims) > 1.5F * thickest(before));
    CHECK(says(with, "2"));
  }
}

TEST_CASE("a muted string has a cross beside the board, at the nut's side") {
  for (const bool left_handed : {false, true})
    for (const int first : {0, 3}) {
      Frame frame = bare();
      neck_of(frame).first_fret = first;
      neck_of(frame).left_handed = left_handed;
      neck_of(frame).muted_strings = {5, 99, -1};
      const auto lines = all_of<Line>(frame);
      REQUIRE(lines.size() == 2);
      const NeckGeometry geometry(neck_of(frame), bands(frame, hd).own.board);
      for (const Line& line : lines) {
        CHECK((line.from.y + line.to.y) / 2 == geometry.string_y(5));
        for (const Point end : {line.from, line.to})
          CHECK((left_handed ? end.x > geometry.board().right() : end.x < geometry.board().x));
      }
    }
}

TEST_CASE("a barre lies under the marks from string to string") {
  Frame frame = bare();
  neck_of(frame).barres = {{5, 6, 2}, {30, 6, 1}};
  Mark mark;
  mark.role = Role::landing;
  neck_of(frame).places = {{6, 5, mark}};
  const FakeMetrics metrics;
  const DrawList list = layout(frame, hd, metrics);
  std::size_t bar = 0, disc = 0, bars = 0;
  for (std::size_t i = 0; i < list.commands.size(); ++i) {
    if (std::holds_alternative<Line>(list.commands[i]))
      bar = i, ++bars;
    if (std::holds_alternative<Disc>(list.commands[i]))
      disc = i;
  }
  REQUIRE(bars == 2); // its edge, and what the edge encloses
  CHECK(bar < disc);
  const NeckGeometry geometry(neck_of(frame), bands(frame, hd).own.board);
  CHECK(std::get<Line>(list.commands[bar]).from == geometry.place(6, 5));
  CHECK(std::get<Line>(list.commands[bar]).to == geometry.place(2, 5));
}

TEST_CASE("a group's lines join its places; the focus is stronger; one alone has the focus") {
  Frame frame = bare();
  neck_of(frame).groups = {triad(4, {6, 5, 4}, ""), triad(3, {8, 8, 7}, "")};
  neck_of(frame).groups[1].focus = true;
  const NeckGeometry geometry(neck_of(frame), bands(frame, hd).own.board);
  const auto lines = all_of<Line>(frame);
  REQUIRE(lines.size() == 4);
  CHECK(lines[0].from == geometry.place(4, 6));
  CHECK(lines[0].to == geometry.place(3, 5));
  CHECK(lines[1].to == geometry.place(2, 4));
  CHECK(lines[2].stroke > 1.5F * lines[0].stroke);

  neck_of(frame).groups = {triad(4, {6, 5, 4}, "")};
  CHECK(all_of<Line>(frame)[0].stroke == lines[2].stroke);
}

TEST_CASE("a group's note that is not lit has a dot, so that no line ends in nothing") {
  Frame frame = bare();
  neck_of(frame).groups = {triad(4, {6, 5, 4}, "")};
  CHECK(all_of<Disc>(frame).size() == 3);
  Mark mark;
  mark.role = Role::landing;
  neck_of(frame).places = {{4, 6, mark}};
  const auto discs = all_of<Disc>(frame);
  REQUIRE(discs.size() == 3);
  CHECK(discs[2].radius > 2 * discs[0].radius);
}

TEST_CASE("a fifth chord's line is broken") {
  Frame frame = bare();
  neck_of(frame).groups = {triad(4, {8, 5, 4}, "")};
  CHECK(all_of<Line>(frame).size() == 2);
  neck_of(frame).groups[0].kind = GroupKind::fifth;
  CHECK(all_of<Line>(frame).size() > 6);
}

TEST_CASE("a group that is not whole on the board is left out") {
  Frame frame = bare();
  neck_of(frame).groups = {triad(4, {2, 5, 4}, "first inversion"), triad(2, {5, 5, 5}, "")};
  CHECK(all_of<Line>(frame).empty());
}

TEST_CASE("a group's name stands on or beside its own lines, and never on a mark") {
  const FakeMetrics metrics;
  for (const Size size : sizes) {
    const Frame frame = samples::groups();
    const auto& neck = std::get<Neck>(frame.board);
    const NeckGeometry geometry(neck, bands(frame, size).own.board);
    const DrawList list = layout(frame, size, metrics);
    std::size_t names = 0;
    for (const NeckGroup& group : neck.groups)
      for (const Command& command : list.commands) {
        const auto* text = std::get_if<Text>(&command);
        if (text == nullptr || text->text != group.name || !geometry.board().holds(bounds(command)))
          continue;
        ++names;
        for (const Place& place : neck.places) {
          const Point p = geometry.place(place.string, place.fret);
          const int r = static_cast<int>(geometry.unit() * neck_style::disc);
          CHECK_FALSE(meet(bounds(command), Rect{p.x - r, p.y - r, 2 * r, 2 * r}));
        }
        const int y = bounds(command).middle().y;
        const int a = geometry.string_y(group.places[0].string);
        const int b = geometry.string_y(group.places[2].string);
        CHECK(y > std::min(a, b));
        CHECK(y < std::max(a, b));
      }
    CHECK(names >= 2);
  }
}

TEST_CASE("among many groups too, names meet neither marks nor each other") {
  const FakeMetrics metrics;
  std::mt19937 random(7);
  auto whole = [&](int low, int high) { return std::uniform_int_distribution(low, high)(random); };
  std::size_t names = 0;
  for (int round = 0; round < 200; ++round) {
    Frame frame = bare();
    Neck& neck = neck_of(frame);
    for (int string = 1; string <= 6; ++string)
      for (int fret = 3; fret <= 8; ++fret)
        if (whole(0, 2) == 0) {
          neck.places.push_back({string, fret, {}});
          neck.places.back().mark.role = Role::landing;
        }
    for (int i = 0; i < 8; ++i)
      neck.groups.push_back(
          triad(whole(3, 6), {whole(3, 8), whole(3, 8), whole(3, 8)}, "second inversion"));
    const Size size = sizes[static_cast<std::size_t>(whole(0, 4))];
    const DrawList list = layout(frame, size, metrics);
    std::vector<Rect> taken;
    for (const Command& command : list.commands)
      if (const auto* disc = std::get_if<Disc>(&command))
        taken.push_back(bounds(*disc));
    for (const Command& command : list.commands)
      if (std::holds_alternative<Text>(command) &&
          std::get<Text>(command).text == "second inversion") {
        ++names;
        for (const Rect& other : taken)
          CHECK_FALSE(meet(bounds(command), other));
        taken.push_back(bounds(command));
      }
  }
  CHECK(names > 300);
}

TEST_CASE("above the board stand its caption and the name that has the focus") {
  Frame frame = bare();
  neck_of(frame).caption = "D7";
  CHECK(says(frame, "D7"));
  neck_of(frame).groups = {triad(4, {6, 5, 4}, "root position")};
  CHECK(says(frame, "D7 · root position"));
  neck_of(frame).groups.push_back(triad(3, {6, 5, 4}, "first inversion"));
  CHECK(says(frame, "D7"));
  frame.message = "key of F";
  frame.notice = "no audio device";
  for (const char* text : {"D7", "key of F", "no audio device"})
    CHECK(says(frame, text));

  Frame keys = samples::key_groups();
  CHECK(all_of<Text>(keys).size() > 0);
  CHECK(bands(keys, hd).own.groups.height > 0);
  CHECK(bands(samples::keyboard(), hd).own.groups.empty());
}

TEST_CASE("bars of groups on the keyboard span their keys and never meet") {
  for (const Size size : sizes) {
    const Frame frame = samples::key_groups();
    const Bands b = bands(frame, size);
    std::vector<Rect> bars;
    for (const Fill& fill : all_of<Fill>(frame, size))
      if (b.own.groups.holds(fill.rect))
        bars.push_back(fill.rect);
    CHECK(bars.size() >= 3);
    for (std::size_t i = 0; i < bars.size(); ++i)
      for (std::size_t k = i + 1; k < bars.size(); ++k)
        CHECK_FALSE(meet(bars[i], bars[k]));
  }
}

TEST_CASE("panels of a places page stay apart and inside their page, for one to six places") {
  for (const Size size : sizes)
    for (const double text : {0.75, 1.0, 1.5, 2.0})
      for (std::size_t count = 1; count <= 7; ++count) {
        Frame frame = samples::places();
        frame.text_scale = text;
        auto& page = std::get<PlacesPage>(frame.page);
        page.panels.resize(count, page.panels.front());
        const Rect area = bands(frame, size).page;
        const PlacesGeometry geometry(page, area, Scale(size, text));
        INFO(size.width << "x" << size.height << " x" << text << ", " << count);
        REQUIRE(geometry.panels().size() == std::min(count, PlacesGeometry::most_panels));
        for (std::size_t i = 0; i < geometry.panels().size(); ++i) {
          CHECK(area.holds(geometry.panels()[i].whole()));
          CHECK(geometry.panels()[i].board.height >= 48);
          for (std::size_t k = 0; k < i; ++k)
            CHECK_FALSE(meet(geometry.panels()[i].whole(), geometry.panels()[k].whole()));
        }
      }
}

TEST_CASE("what stands above a panel's neck stays above it and no wider, with real fonts") {
  const auto fonts = Fonts::open(std::string(LANDFALL_SOURCE_DIR) + "/assets/fonts");
  REQUIRE(fonts);
  for (const Size size : sizes)
    for (const double scale : {0.75, 1.0, 1.5, 2.0}) {
      Frame frame = samples::places();
      frame.text_scale = scale;
      auto& page = std::get<PlacesPage>(frame.page);
      page.panels[1].chord = {"F", 1, "m7♭5", "C", 1, false};
      page.panels[2].title = "a shape that no one has named yet · frets 10–13";
      const Rect area = bands(frame, size).page;
      const PlacesGeometry geometry(page, area, Scale(size, scale));
      const DrawList list = layout(frame, size, **fonts);
      std::size_t seen = 0;
      for (const Command& command : list.commands)
        if (const auto* text = std::get_if<Text>(&command))
          for (const auto& panel : geometry.panels())
            if (meet(bounds(*text), panel.heading)) {
              INFO(text->text << " " << size.width << " x" << scale);
              CHECK(text->at.x >= panel.heading.x);
              CHECK(bounds(*text).right() <= panel.heading.right() + 1);
              CHECK(text->at.y <= panel.board.y);
              ++seen;
            }
      CHECK(seen >= 15);
    }
}

TEST_CASE("all panels have the same size of marks, and the arcs of all sweep") {
  const auto arcs = all_of<Arc>(samples::places());
  REQUIRE(arcs.size() > 25);
  for (const Arc& arc : arcs) {
    CHECK(arc.radius == arcs[0].radius);
    CHECK(arc.sweep == arcs[0].sweep);
  }
}

TEST_CASE("over the panels the lane slides on, and the big board is gone") {
  const Frame places = samples::places();
  CHECK(says(places, "bar 5 of 12"));
  CHECK(says(places, "A shape · frets 6–9"));
  CHECK(all_of<Disc>(places).size() > 2 * all_of<Disc>(samples::jam()).size());
}
