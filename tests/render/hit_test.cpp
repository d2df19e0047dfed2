#include "render/bands.hpp"
#include "render/close_mark.hpp"
#include "render/fake_metrics.hpp"
#include "render/hit.hpp"
#include "render/keyboard_geometry.hpp"
#include "render/lane.hpp"
#include "render/layout.hpp"
#include "render/neck_geometry.hpp"
#include "render/pages.hpp"
#include "render/places.hpp"
#include "render/sample_frames.hpp"

#include <doctest/doctest.h>

#include <initializer_list>
#include <map>

using namespace landfall::render;

namespace {

constexpr Size sizes[] = {{800, 450}, {1024, 768}, {1920, 1080}};

Hit at_pixel(const Frame& frame, Size size, Point at) {
  return hit(frame, size, FakeMetrics(), at);
}

/// The texts that are drawn, by what they say; the last one of several.
Rect text_box(const Frame& frame, Size size, const std::string& said) {
  Rect box;
  for (const Command& command : layout(frame, size, FakeMetrics()).commands)
    if (const auto* text = std::get_if<Text>(&command); text != nullptr && text->text == said)
      box = bounds(command);
  return box;
}

/// The middle of the character at a byte of a text that is drawn.
Point in_text(const Frame& frame, Size size, const std::string& said, std::size_t byte) {
  const Rect box = text_box(frame, size, said);
  const int width = FakeMetrics().measure(Face::regular, 1000, said).width;
  const int before = FakeMetrics().measure(Face::regular, 1000, said.substr(0, byte)).width;
  return {box.x + box.width * (before + 300) / std::max(width, 1), box.middle().y};
}

Frame with_page(Page page) {
  Frame frame = samples::jam();
  frame.page = std::move(page);
  return frame;
}

Frame edited() {
  EditPage page;
  page.title = "A tune";
  page.fields = {{"title", "Rope", "untitled", {}}, {"key", "", "as it fits", 0}};
  page.lines = {"| A7 |", "| D7 |"};
  return with_page(page);
}

} // namespace

TEST_CASE("a click on a place finds the place, on every neck, flipped or not") {
  for (const Size size : sizes)
    for (const int flips : {0, 1, 2, 3, 4, 7})
      for (const int first : {0, 3}) {
        Frame frame = samples::jam();
        auto& neck = std::get<Neck>(frame.board);
        neck.left_handed = (flips & 1) != 0;
        neck.seen_by_player = (flips & 2) != 0;
        neck.true_spacing = (flips & 4) != 0;
        neck.first_fret = first;
        neck.last_fret = first + 9;
        const NeckGeometry geometry(neck, bands(frame, size).own.board);
        for (int string = 1; string <= 6; ++string)
          for (int fret = first; fret <= first + 9; ++fret) {
            INFO("string " << string << " fret " << fret << " flips " << flips);
            CHECK(at_pixel(frame, size, geometry.place(string, fret)) ==
                  Hit(HitPlace{string, fret}));
          }
      }
}

TEST_CASE("a click on a key finds the key") {
  for (const Size size : sizes) {
    const Frame frame = samples::keyboard();
    const KeyboardGeometry geometry(std::get<Keyboard>(frame.board), bands(frame, size).own.board);
    for (int midi = geometry.lowest(); midi <= geometry.highest(); ++midi)
      CHECK(at_pixel(frame, size, geometry.place(midi)) == Hit(HitKey{midi}));
  }
}

TEST_CASE("a click in the lane finds the bar and the beat") {
  for (const Size size : sizes) {
    const Frame frame = samples::jam(1.0);
    const Rect lane = bands(frame, size).lane;
    const LaneGeometry geometry(frame, lane, Scale(size, 1.0));
    const Hit found = at_pixel(frame, size, {geometry.x(5.0) + 1, lane.middle().y});
    REQUIRE(std::holds_alternative<HitBar>(found));
    CHECK(std::get<HitBar>(found).tag == 6);
    CHECK(std::get<HitBar>(found).beat == doctest::Approx(2.0).epsilon(0.03));
  }
}

TEST_CASE("a click on the reel finds the place in the take, a drag beside it too; its ends hold") {
  for (const Size size : sizes) {
    const Frame frame = samples::take();
    const Rect reel = bands(frame, size).reel;
    const int margin = Scale(size, 1.0).px(space::margin);
    CHECK(reel.height >= 20);
    const Hit found = at_pixel(frame, size, {reel.middle().x, reel.middle().y});
    REQUIRE(std::holds_alternative<HitReel>(found));
    CHECK(std::get<HitReel>(found).at == doctest::Approx(0.5).epsilon(0.01));
    CHECK(reel_at(frame, size, {margin, 0})->at == doctest::Approx(0.0));
    CHECK(reel_at(frame, size, {0, 0})->at == 0.0);
    CHECK(reel_at(frame, size, {size.width, size.height})->at == 1.0);
    CHECK_FALSE(reel_at(samples::jam(0.5), size, reel.middle()));
  }
}

TEST_CASE("a click on a scene's head asks for the list, on its line for the scene beside it") {
  Frame frame = samples::jam();
  const Size size{1280, 720};
  frame.scene = Scene{"4 of 12", "Thirds", {}, "", "", "Land on the third."};
  const auto part = [&](Point at) {
    const auto found_hit = at_pixel(frame, size, at);
    const auto* found = std::get_if<HitScene>(&found_hit);
    return found == nullptr ? std::nullopt : std::optional(found->part);
  };
  CHECK(part({60, 12}) == HitScene::Part::scenes);
  CHECK(part({100, 712}) == HitScene::Part::back);
  CHECK(part({1200, 712}) == HitScene::Part::next);
  CHECK_FALSE(part({640, 400}));
  frame.scene->count.clear(); // no lesson: only the board and its chord
  CHECK_FALSE(part({1200, 712}));
}

TEST_CASE("a click on a list finds the row; elsewhere on a page it finds the page") {
  for (const Size size : sizes)
    for (const bool beside : {false, true}) {
      const Frame frame = samples::list(beside);
      const auto& page = std::get<ListPage>(frame.page);
      const ListGeometry geometry(page, bands(frame, size).page, Scale(size, 1.0));
      REQUIRE(geometry.shown > 3);
      for (int row = geometry.first; row < geometry.first + geometry.shown; ++row)
        CHECK(at_pixel(frame, size, geometry.row(row).middle()) ==
              Hit(HitRow{row, geometry.first}));
      const Rect rect = bands(frame, size).page;
      CHECK(at_pixel(frame, size, {rect.x + 1, rect.y + 1}) == Hit(HitPage{}));
    }
}

TEST_CASE("a click on a panel finds the place; the lane above it still finds bars") {
  for (const Size size : sizes) {
    const Frame frame = samples::places();
    const auto& page = std::get<PlacesPage>(frame.page);
    const Rect rect = bands(frame, size).page;
    const PlacesGeometry geometry(page, rect, Scale(size, 1.0));
    REQUIRE(geometry.panels().size() == 5);
    for (int i = 0; i < 5; ++i) {
      const auto& panel = geometry.panels()[static_cast<std::size_t>(i)];
      for (const Rect& part : {panel.heading, panel.board, panel.numbers})
        CHECK(at_pixel(frame, size, part.middle()) == Hit(HitPanel{i}));
    }
    CHECK(at_pixel(frame, size, {rect.x + 1, rect.middle().y}) == Hit(HitPage{}));
    CHECK(std::holds_alternative<HitBar>(
        at_pixel(frame, size, {size.width / 2, bands(frame, size).lane.middle().y})));
  }
}

TEST_CASE("the row with the focus is in view") {
  Frame frame = samples::list(false);
  auto& page = std::get<ListPage>(frame.page);
  for (page.selected = 0; page.selected < static_cast<int>(page.rows.size()); ++page.selected) {
    const ListGeometry geometry(page, bands(frame, {800, 450}).page, Scale({800, 450}, 1.0));
    CHECK(geometry.first <= page.selected);
    CHECK(page.selected < geometry.first + geometry.shown);
  }
}

TEST_CASE("a list stays where it was clicked, unless the focus would be out of view") {
  Frame frame = samples::list(false);
  auto& page = std::get<ListPage>(frame.page);
  while (page.rows.size() < 60)
    page.rows.push_back({"Rope", "", false, false});
  const auto first = [&](int wanted, int selected) {
    page.first = wanted;
    page.selected = selected;
    return ListGeometry(page, bands(frame, {800, 450}).page, Scale({800, 450}, 1.0)).first;
  };
  page.first = 0;
  const int shown = ListGeometry(page, bands(frame, {800, 450}).page, Scale({800, 450}, 1.0)).shown;
  CHECK(first(7, 7) == 7);
  CHECK(first(7, 6 + shown) == 7);
  CHECK(first(7, 7 + shown) == 8);
  CHECK(first(7, 3) == 3);
  CHECK(first(59, 59) == 60 - shown);
}

TEST_CASE("beside the board and between the words of the status line there is nothing to hit") {
  const Frame frame = samples::jam();
  CHECK(at_pixel(frame, {1920, 1080}, {5, 700}) == Hit());
  CHECK(at_pixel(frame, {1920, 1080}, {5, 20}) == Hit());
  CHECK(at_pixel(frame, {1920, 1080}, {-50, -50}) == Hit());
}

TEST_CASE("a click on a word of the status line finds the word, whatever is left of the line") {
  using enum StatusPart;
  Frame frame = samples::jam();
  frame.status = {"Rope",  "E",        "Place", "a set",         "96 bpm",
                  "swing", "chorus 3", "ports", Running::stopped};
  const std::string right = "stopped · 96 bpm · swing · chorus 3 · ports";
  const Size size{1920, 1080};
  const auto found = [&](const std::string& said, std::size_t byte) {
    return at_pixel(frame, size, in_text(frame, size, said, byte));
  };
  CHECK(found("Rope", 1) == Hit(HitStatus{title}));
  CHECK(found("E · Place", 0) == Hit(HitStatus{key}));
  CHECK(found("E · Place", 7) == Hit(HitStatus{place}));
  CHECK(found("a set", 3) == Hit(HitStatus{set}));
  CHECK(found(right, 0) == Hit(HitStatus{running}));
  CHECK(found(right, right.find("96")) == Hit(HitStatus{tempo}));
  CHECK(found(right, right.find("swing") + 4) == Hit(HitStatus{feel}));
  CHECK(found(right, right.find("chorus")) == Hit(HitStatus{chorus}));
  CHECK(found(right, right.size() - 1) == Hit(HitStatus{ports}));
  const Size narrow{800, 450};
  frame.text_scale = 2.0;
  CHECK(at_pixel(frame, narrow, in_text(frame, narrow, "Rope", 0)) == Hit(HitStatus{title}));
  std::string shortened;
  for (const Command& command : layout(frame, narrow, FakeMetrics()).commands)
    if (const auto* text = std::get_if<Text>(&command))
      if (text->text.find("96 bpm") != std::string::npos)
        shortened = text->text;
  REQUIRE_FALSE(shortened.empty());
  CHECK(shortened.size() < right.size());
  CHECK(at_pixel(frame, narrow, in_text(frame, narrow, shortened, shortened.find("bpm"))) ==
        Hit(HitStatus{tempo}));
}

TEST_CASE("the status line stays to be clicked above a page, also over a lesson's scene") {
  for (const bool bare : {false, true}) {
    Frame frame = samples::list(false);
    frame.scene = Scene{"", "", {}, "", "", "", bare, false};
    const Size size{1280, 720};
    const Rect title = text_box(frame, size, frame.status.title);
    REQUIRE_FALSE(title.empty());
    CHECK(title.bottom() <= bands(frame, size).page.y);
    CHECK(at_pixel(frame, size, title.middle()) == Hit(HitStatus{StatusPart::title}));
  }
}

TEST_CASE("a page over a lesson's scene leaves the head that says where the lesson stands") {
  Frame frame = samples::list(false);
  frame.scene = Scene{"4 of 12", "Thirds", {}, "", "", "Land on the third.", false, false};
  for (const Size size : sizes) {
    const Rect count = text_box(frame, size, "4 of 12");
    REQUIRE_FALSE(count.empty());
    CHECK_FALSE(text_box(frame, size, "Thirds").empty());
    CHECK(count.bottom() <= bands(frame, size).page.y);
    CHECK(at_pixel(frame, size, count.middle()) == Hit(HitScene{HitScene::Part::scenes}));
  }
}

TEST_CASE("a click on a hint of the footer finds that hint and the place in it") {
  Frame frame = samples::jam();
  frame.hints = "space stop  [ ] place  ? all keys";
  for (const Size size : sizes) {
    const auto found = [&](std::size_t byte) {
      return at_pixel(frame, size, in_text(frame, size, frame.hints, byte));
    };
    CHECK(found(0) == Hit(HitHint{"space stop", 0}));
    CHECK(found(frame.hints.find(']')) == Hit(HitHint{"[ ] place", 2}));
    CHECK(found(frame.hints.find("all")) == Hit(HitHint{"? all keys", 2}));
    CHECK(found(frame.hints.find("  [")) == Hit());
  }
}

TEST_CASE("every page has a mark that closes it, in the window and clear of all words") {
  const std::pair<const char*, Frame> pages[] = {
      {"list", samples::list(false)},  {"beside", samples::list(true)}, {"help", samples::help()},
      {"history", samples::history()}, {"rig", samples::rig()},         {"edit", samples::edit()},
      {"places", samples::places()}};
  for (const auto& page : pages)
    for (const Size size : sizes)
      for (const double text : {0.75, 1.0, 2.0}) {
        Frame frame = page.second;
        frame.text_scale = text;
        frame.message = "from the next bar: A shape, frets 9–12";
        INFO(page.first << " " << size.width << " x" << text);
        const Rect mark = close_mark(frame, bands(frame, size), Scale(size, text));
        CHECK(mark.width >= 22);
        CHECK(Rect{0, 0, size.width, size.height}.holds(mark));
        CHECK(at_pixel(frame, size, mark.middle()) == Hit(HitClose{}));
        CHECK(at_pixel(frame, size, {mark.x, mark.y}) == Hit(HitClose{}));
        for (const Command& command : layout(frame, size, FakeMetrics()).commands)
          if (std::holds_alternative<Text>(command))
            CHECK_FALSE(meet(bounds(command), mark.inset(mark.width / 5, mark.width / 5)));
      }
  const Frame none = samples::jam();
  CHECK(close_mark(none, bands(none, {1280, 720}), Scale({1280, 720}, 1.0)).empty());
}

TEST_CASE("a click in a text finds the character that it is nearest to") {
  for (const Size size : sizes) {
    const Frame frame = edited();
    const auto found = [&](const std::string& said, std::size_t byte) {
      return at_pixel(frame, size, in_text(frame, size, said, byte));
    };
    CHECK(found("Rope", 2) == Hit(HitField{0, 2}));
    CHECK(found("as it fits", 5) == Hit(HitField{1, 0}));
    CHECK(found("| A7 |", 3) == Hit(HitField{2, 3}));
    CHECK(found("| D7 |", 4) == Hit(HitField{2, 7 + 4}));
    Rect line = text_box(frame, size, "| A7 |");
    CHECK(at_pixel(frame, size, {line.right() + 40, line.middle().y}) == Hit(HitField{2, 6}));
  }
}

TEST_CASE("a list's query takes the caret, and shows it where it is") {
  ListPage page;
  page.title = "Songs";
  page.has_query = true;
  page.query = "rope";
  page.query_caret = 1;
  page.rows = {{"Rope", "", false, false}};
  page.hints = "Return play  Delete take it out";
  for (const Size size : sizes) {
    const Frame frame = with_page(page);
    const auto point = in_text(frame, size, "rope", 2);
    CHECK(at_pixel(frame, size, point) == Hit(HitField{0, 2}));
    CHECK(at_pixel(frame, size, in_text(frame, size, page.hints, page.hints.find("Delete"))) ==
          Hit(HitHint{"Delete take it out", 0}));
    Frame said = frame;
    said.message = "put away";
    CHECK(text_box(said, size, page.hints).empty());
    CHECK(at_pixel(said, size, text_box(said, size, "put away").middle()) == Hit(HitPage{}));
    auto later = page;
    later.query_caret = 3;
    const auto caret_x = [&](const Frame& shown) {
      int x = -1;
      const Rect field = text_box(shown, size, "rope");
      for (const Command& command : layout(shown, size, FakeMetrics()).commands)
        if (const auto* fill = std::get_if<Fill>(&command);
            fill != nullptr && fill->rect.height > fill->rect.width && fill->rect.width < 8 &&
            fill->rect.y < field.middle().y && fill->rect.bottom() > field.middle().y)
          x = fill->rect.x - field.x;
      return x;
    };
    const int letter = text_box(frame, size, "rope").width / 4;
    CHECK(caret_x(frame) == letter);
    CHECK(std::abs(caret_x(with_page(later)) - 3 * letter) <= 3); // rounding
  }
}

TEST_CASE("every row of a help page is found by its key's place and its text's") {
  Frame frame = samples::help();
  const auto& page = std::get<HelpPage>(frame.page);
  std::map<std::string, std::string> keys; // by what is written
  for (const auto& section : page.sections)
    for (const auto& row : section.rows)
      keys[row.key] = keys[row.text] = row.key;
  for (const Size size : {sizes[0], sizes[2]}) {
    int found = 0;
    for (const Command& command : layout(frame, size, FakeMetrics()).commands) {
      const auto* text = std::get_if<Text>(&command);
      if (text == nullptr || !bands(frame, size).page.holds(bounds(command)))
        continue;
      INFO(text->text);
      const auto row = keys.find(text->text);
      if (row != keys.end())
        CHECK(at_pixel(frame, size, bounds(command).middle()) == Hit(HitHint{row->second, 0}));
      found += row != keys.end() ? 1 : 0;
    }
    CHECK(found > 10);
    const Rect heading = text_box(frame, size, page.sections.front().title);
    CHECK(at_pixel(frame, size, heading.middle()) == Hit(HitPage{}));
  }
}

TEST_CASE("a help page that does not fit says so, scrolls to its end, and no further") {
  Frame frame = samples::help();
  CHECK(most_scrolled(samples::jam(), {800, 450}) == 0);
  auto& page = std::get<HelpPage>(frame.page);
  for (int i = 0; i < 80; ++i)
    page.sections.back().rows.push_back({"F" + std::to_string(i), "row"});
  frame.text_scale = 2.0;
  const Size size{800, 450};
  const int most = most_scrolled(frame, size);
  REQUIRE(most > 0);
  const auto shows = [&](const std::string& said) { return !text_box(frame, size, said).empty(); };
  CHECK(shows("more below"));
  CHECK_FALSE(shows("F79"));
  page.scroll = most - 1;
  CHECK(shows("more below"));
  page.scroll = most;
  CHECK(shows("more above"));
  CHECK(shows("F79"));
}

TEST_CASE("with true spacing frets narrow towards the body by the twelfth root of two") {
  Neck neck;
  neck.strings.resize(6);
  neck.first_fret = 0;
  neck.last_fret = 12;
  neck.true_spacing = true;
  const NeckGeometry geometry(neck, {0, 0, 4000, 400});
  for (int fret = 1; fret < 12; ++fret) {
    const double here = geometry.wire_x(fret) - geometry.wire_x(fret - 1);
    const double next = geometry.wire_x(fret + 1) - geometry.wire_x(fret);
    CHECK(here / next == doctest::Approx(1.0595).epsilon(0.02));
  }
}
