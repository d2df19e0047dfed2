#include "render/fake_metrics.hpp"
#include "render/fonts.hpp"
#include "render/layout.hpp"
#include "render/layout_checks.hpp"
#include "render/sample_frames.hpp"

#include <doctest/doctest.h>

#include <map>

using namespace landfall::render;
using checks::collisions;
using checks::strays;

namespace {

const std::string fonts_folder = std::string(LANDFALL_SOURCE_DIR) + "/assets/fonts";

constexpr Size sizes[] = {{800, 450},   {800, 600},   {1024, 768},  {1280, 720},
                          {1920, 1080}, {2560, 1080}, {3840, 2160}, {3840, 1640}};
constexpr double scales[] = {0.75, 1.0, 1.3, 1.6, 2.0};

void check_everywhere(const TextMetrics& metrics) {
  for (const samples::Named& sample : samples::all())
    for (const Size size : sizes)
      for (const double scale : scales) {
        Frame scaled = sample.frame;
        scaled.text_scale = scale;
        const DrawList list = layout(scaled, size, metrics);
        INFO(sample.name << " " << size.width << "x" << size.height << " x" << scale);
        CHECK(collisions(list) == "");
        CHECK(strays(list) == "");
      }
}

template <typename C> std::vector<C> all_of(const DrawList& list) {
  std::vector<C> out;
  for (const Command& command : list.commands)
    if (const auto* c = std::get_if<C>(&command))
      out.push_back(*c);
  return out;
}

Frame one_place(Mark mark, int string = 2, int fret = 5) {
  Frame frame;
  Neck neck;
  neck.strings.resize(6);
  neck.first_fret = 3;
  neck.last_fret = 8;
  neck.places = {{string, fret, mark}};
  frame.board = neck;
  return frame;
}

constexpr Size hd{1920, 1080};

} // namespace

TEST_CASE("labels never meet and nothing leaves the window, with real fonts") {
  const auto fonts = Fonts::open(fonts_folder);
  REQUIRE(fonts);
  check_everywhere(**fonts);
}

TEST_CASE("labels never meet and nothing leaves the window, with fonts of other widths") {
  check_everywhere(FakeMetrics());
}

TEST_CASE("a caption or a page's title leaves room for a message and a notice") {
  const auto fonts = Fonts::open(fonts_folder);
  REQUIRE(fonts);
  for (Frame frame : {samples::groups(), samples::places(), samples::key_groups()})
    for (const Size size : sizes)
      for (const double scale : scales) {
        frame.text_scale = scale;
        frame.message = "from the next bar: A shape, frets 9–12";
        frame.notice = "stage keys was unplugged; waiting for it";
        const DrawList list = layout(frame, size, **fonts);
        INFO(size.width << "x" << size.height << " x" << scale);
        CHECK(collisions(list) == "");
        CHECK(strays(list) == "");
      }
}

TEST_CASE("while the lane slides, chords and bar labels never meet") {
  const auto fonts = Fonts::open(fonts_folder);
  REQUIRE(fonts);
  for (int step = 0; step < 64; ++step) {
    INFO("step " << step);
    CHECK(collisions(layout(samples::jam(step / 16.0), hd, **fonts)) == "");
  }
}

TEST_CASE("the same frame gives the same list") {
  const FakeMetrics metrics;
  CHECK(layout(samples::jam(), hd, metrics) == layout(samples::jam(), hd, metrics));
  CHECK(layout(samples::jam(2.0), hd, metrics) != layout(samples::jam(2.5), hd, metrics));
}

TEST_CASE("an arc sweeps in proportion, has one radius, and is full exactly at the change") {
  const FakeMetrics metrics;
  std::map<double, int> sweeps{{0.25, full_sweep / 4}, {0.5, full_sweep / 2}, {1.0, full_sweep}};
  for (const auto& [coming, sweep] : sweeps) {
    Mark mark;
    mark.coming = coming;
    const auto arcs = all_of<Arc>(layout(one_place(mark), hd, metrics));
    REQUIRE(arcs.size() == 1);
    CHECK(arcs[0].sweep == sweep);
  }
  Mark almost;
  almost.coming = 0.998;
  CHECK(all_of<Arc>(layout(one_place(almost), hd, metrics))[0].sweep < full_sweep);

  const auto arcs = all_of<Arc>(layout(samples::jam(), hd, metrics));
  REQUIRE(arcs.size() > 5);
  for (const Arc& arc : arcs)
    CHECK(arc.radius == arcs[0].radius);
}

TEST_CASE("left-handed mirrors the neck, and the player's view turns it over") {
  const FakeMetrics metrics;
  Mark mark;
  mark.role = Role::landing;
  auto disc_at = [&](bool left_handed, bool seen_by_player) {
    Frame frame = one_place(mark);
    std::get<Neck>(frame.board).left_handed = left_handed;
    std::get<Neck>(frame.board).seen_by_player = seen_by_player;
    const auto discs = all_of<Disc>(layout(frame, hd, metrics));
    REQUIRE(discs.size() == 1);
    return discs[0].center;
  };
  const Point plain = disc_at(false, false);
  CHECK(disc_at(true, false).x == 1920 - plain.x);
  CHECK(disc_at(true, false).y == plain.y);
  CHECK(disc_at(false, true).x == plain.x);
  CHECK(disc_at(false, true).y > plain.y);
}

TEST_CASE("reach shows in size alone, fading in brightness alone") {
  const FakeMetrics metrics;
  Mark mark;
  mark.role = Role::landing;
  auto disc = [&](bool reach, double brightness) {
    mark.reach = reach;
    mark.brightness = brightness;
    return all_of<Disc>(layout(one_place(mark), hd, metrics)).at(0);
  };
  CHECK(disc(true, 1.0).color == disc(false, 1.0).color);
  CHECK(disc(true, 1.0).radius < 0.85F * disc(false, 1.0).radius);
  CHECK(disc(false, 0.5).radius == disc(false, 1.0).radius);
  CHECK(disc(false, 0.5).color != disc(false, 1.0).color);
}

TEST_CASE("roles can be told apart without any colour") {
  const FakeMetrics metrics;
  auto shape = [&](Role role, bool coming) {
    Mark mark;
    mark.role = role;
    mark.label = "3";
    if (coming)
      mark.coming = 0.5;
    const DrawList list = layout(one_place(mark), hd, metrics);
    std::string signature;
    for (const Disc& d : all_of<Disc>(list))
      signature += "disc" + std::to_string(d.radius);
    for (const Ring& r : all_of<Ring>(list))
      signature += "ring" + std::to_string(r.radius);
    for (const Arc& a : all_of<Arc>(list))
      signature += "arc" + std::to_string(a.radius);
    return signature;
  };
  std::map<std::string, int> signatures;
  for (const Role role : {Role::none, Role::landing, Role::set, Role::chord})
    for (const bool coming : {false, true})
      ++signatures[shape(role, coming)];
  CHECK(signatures.size() == 8);
}

TEST_CASE("a hidden place draws nothing") {
  const FakeMetrics metrics;
  Mark mark;
  mark.role = Role::landing;
  mark.hidden = true;
  CHECK(all_of<Disc>(layout(one_place(mark), hd, metrics)).empty());
}

TEST_CASE("a bend moves the halo towards the next fret") {
  const FakeMetrics metrics;
  auto halo_x = [&](double bend) {
    Frame frame = one_place({});
    std::get<Neck>(frame.board).sounding = {{2, 5, bend, 1.0}};
    return all_of<Ring>(layout(frame, hd, metrics)).at(0).center.x;
  };
  CHECK(halo_x(0.5) * 2 == doctest::Approx(halo_x(0.0) + halo_x(1.0)).epsilon(0.01));
}

TEST_CASE("long titles are shortened with an ellipsis, never the key") {
  const auto fonts = Fonts::open(fonts_folder);
  REQUIRE(fonts);
  Frame frame = samples::crowded();
  frame.status.title = std::string(3000, 'M');
  const auto texts = all_of<Text>(layout(frame, {800, 450}, **fonts));
  CHECK(texts.at(0).text.ends_with("…"));
  CHECK(texts.at(0).text.size() < 60);
}

TEST_CASE("bars move in step: their distances never change while they slide") {
  const FakeMetrics metrics;
  auto bar_lines = [&](double moment) {
    Frame frame;
    for (int bar = 0; bar < 3; ++bar) {
      LaneBar line;
      line.beat = bar * 4.0 - moment + 1.0;
      line.pulses = 1;
      frame.lane.bars.push_back(line);
    }
    std::vector<int> x;
    for (const Fill& fill : all_of<Fill>(layout(frame, hd, metrics)))
      if (fill.rect.width == 2 && fill.rect.height > 100 && fill.rect.y < 400)
        x.push_back(fill.rect.x);
    return x;
  };
  const auto first = bar_lines(0.0);
  REQUIRE(first.size() >= 3);
  for (int step = 1; step < 40; ++step) {
    const auto later = bar_lines(step * 0.0317);
    REQUIRE(later.size() == first.size());
    CHECK(later[1] - later[0] == first[1] - first[0]);
    CHECK(later[2] - later[1] == first[2] - first[1]);
    CHECK(later[0] <= first[0]);
  }
}
