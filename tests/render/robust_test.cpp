#include "render/canvas.hpp"
#include "render/fake_metrics.hpp"
#include "render/hit.hpp"
#include "render/layout.hpp"
#include "render/sample_frames.hpp"

#include <doctest/doctest.h>

#include <initializer_list>
#include <limits>
#include <random>

using namespace landfall::render;

namespace {

/// Frames that no sensible caller makes.
class Nonsense {
public:
  explicit Nonsense(unsigned seed) : random_(seed) {}

  Frame frame() {
    const auto frames = samples::all();
    Frame f = frames[static_cast<std::size_t>(whole(0, static_cast<int>(frames.size()) - 1))].frame;
    f.text_scale = real();
    f.status.title = text();
    f.status.place = text();
    f.summary = text();
    f.lane.zoom = real();
    for (LaneBar& bar : f.lane.bars) {
      bar.beat = real();
      bar.length = real();
      bar.pulses = whole(-5, 2000);
      bar.section = text();
    }
    for (LaneChord& chord : f.lane.chords) {
      chord.beat = real();
      chord.chord.quality = text();
      chord.chord.accidental = whole(-9, 9);
    }
    for (TraceNote& note : f.lane.trace)
      note.from = real(), note.to = real(), note.height = real();
    if (auto* neck = std::get_if<Neck>(&f.board))
      spoil(*neck);
    else
      spoil(std::get<Keyboard>(f.board));
    if (auto* list = std::get_if<ListPage>(&f.page))
      list->selected = whole(-100, 100), list->title = text(), list->lines.assign(3, text());
    if (auto* places = std::get_if<PlacesPage>(&f.page)) {
      places->panels.resize(static_cast<std::size_t>(whole(0, 9)));
      places->title = text();
      for (PlacePanel& panel : places->panels)
        panel.title = text(), panel.shape = text(), spoil(panel.neck);
    }
    return f;
  }

  int whole(int low, int high) { return std::uniform_int_distribution(low, high)(random_); }

private:
  double real() {
    constexpr double odd[] = {0.0,  -1.0, 1e9,  -1e9,
                              1e-9, 0.5,  3.25, std::numeric_limits<double>::infinity()};
    return odd[whole(0, 7)];
  }
  std::string text() {
    return std::string(static_cast<std::size_t>(whole(0, 3) * 700),
                       static_cast<char>(whole(1, 255)));
  }
  void spoil(Neck& neck) {
    neck.strings.resize(static_cast<std::size_t>(whole(0, 20)));
    neck.first_fret = whole(-50, 50);
    neck.last_fret = whole(-50, 50);
    neck.capo = whole(-5, 40);
    neck.true_spacing = whole(0, 1) == 1;
    neck.sounding = {{whole(-3, 15), whole(-5, 50), real(), real()}};
    neck.muted_strings = {whole(-3, 15), whole(-3, 15)};
    neck.barres = {{whole(-5, 50), whole(-3, 15), whole(-3, 15)}};
    neck.groups.resize(static_cast<std::size_t>(whole(0, 200)));
    for (NeckGroup& group : neck.groups) {
      group.name = text();
      group.kind = whole(0, 1) == 0 ? GroupKind::triad : GroupKind::fifth;
      for (GroupPlace& place : group.places)
        place = {whole(-2, 14), whole(-5, 60)};
    }
    neck.caption = text();
    for (Place& place : neck.places) {
      place.string = whole(-2, 14);
      place.fret = whole(-5, 60);
      place.mark.label = text();
      place.mark.coming = real();
      place.mark.brightness = real();
    }
  }
  void spoil(Keyboard& keyboard) {
    keyboard.lowest = whole(-200, 200);
    keyboard.highest = whole(-200, 200);
    keyboard.sounding = {{whole(-200, 200), real(), real()}};
    keyboard.groups.resize(static_cast<std::size_t>(whole(0, 200)));
    for (KeyGroup& group : keyboard.groups) {
      group.name = text();
      group.kind = whole(0, 1) == 0 ? GroupKind::triad : GroupKind::fifth;
      group.midi = {whole(-200, 200), whole(-200, 200), whole(0, 127)};
    }
  }

  std::mt19937 random_;
};

} // namespace

TEST_CASE("no frame and no size crashes the layout, or makes it long") {
  const FakeMetrics metrics;
  for (unsigned seed = 0; seed < 400; ++seed) {
    INFO("seed " << seed);
    Nonsense nonsense(seed);
    const Frame frame = nonsense.frame();
    const Size size{nonsense.whole(1, 3000), nonsense.whole(1, 2000)};
    CHECK(layout(frame, size, metrics).commands.size() < 20'000);
    hit(frame, size, FakeMetrics(), {nonsense.whole(-10, 3000), nonsense.whole(-10, 2000)});
  }
}

TEST_CASE("no frame crashes the painter") {
  const auto fonts = Fonts::open(std::string(LANDFALL_SOURCE_DIR) + "/assets/fonts");
  REQUIRE(fonts);
  auto canvas = Canvas::create({320, 180}, **fonts);
  REQUIRE(canvas);
  for (unsigned seed = 0; seed < 60; ++seed) {
    const DrawList list = layout(Nonsense(seed).frame(), {320, 180}, **fonts);
    (*canvas)->update(list);
  }
  (*canvas)->paint(layout(samples::jam(), {320, 180}, **fonts));
  CHECK((*canvas)->pixels()[0] == 0x11161C);
}
