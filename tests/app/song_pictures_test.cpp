#include "app/data.hpp"
#include "app/frame_builder.hpp"
#include "app/help.hpp"
#include "app/setup.hpp"
#include "render/approved_table.hpp"
#include "render/fake_metrics.hpp"
#include "render/layout.hpp"

#include <sstream>

// Shipped songs as the window shows them, at several moments and on several instruments.
// LANDFALL_APPROVE=1 writes the table anew; look at what changed before committing.

using namespace landfall;
using namespace landfall::app;
using render::checks::TableRow;

namespace {

struct Case {
  const char* song;
  const char* instrument;
  render::Theme theme;
};

constexpr Case cases[] = {
    {"slipway-at-six", "guitar", render::Theme::stage},
    {"slipway-at-six", "keyboard", render::Theme::paper},
    {"uneven-cobbles", "bass", render::Theme::paper},
    {"streetlamp-quartet", "keyboard", render::Theme::stage},
    {"two-harbours", "seven-string", render::Theme::stage},
    {"the-fifth-step-is-missing", "guitar", render::Theme::paper},
    {"winter-timetable", "banjo", render::Theme::stage},
};

/// A song in its own key, opened as usual.
struct Window {
  neck::Instrument instrument;
  std::unique_ptr<practice::Session> session;
  FrameInput input;

  explicit Window(const Case& c) : instrument(load_instrument(c.instrument).value()) {
    std::istringstream nothing;
    std::vector<std::string> problems;
    const auto song = load_song(c.song, nothing);
    REQUIRE_MESSAGE(song, (song ? "" : song.error()));
    session = std::make_unique<practice::Session>(setup_for(*song, FeelFolder::load(problems), {}));
    session->start();
    session->advance({});
    input.instrument = &instrument;
    input.look.theme = c.theme;
    input.hints = usual_hints(true);
    input.snapshot.timeline = std::make_shared<const practice::Timeline>(session->timeline());
    input.snapshot.song = song->song;
    input.snapshot.choice = session->latest_choice();
  }

  /// Stopped, counting in, in the first and second bar, and shortly before the turnaround.
  std::vector<std::pair<std::string, std::optional<Ticks>>> moments() const {
    const Ticks turn = session->timeline().performance.stretches().front().end();
    return {{"stopped", std::nullopt},
            {"count-in", Ticks{} - quarter},
            {"top", Ticks{480}},
            {"second", quarter * 5},
            {"turnaround", turn - quarter}};
  }

  render::Frame at(const std::optional<Ticks>& moment) {
    input.snapshot.transport.rolling = moment.has_value();
    input.snapshot.transport.anchor_tick = moment.value_or(Ticks{});
    return build_frame(input);
  }
};

} // namespace

TEST_CASE("shipped songs are drawn as approved, at several moments and on several instruments") {
  const render::FakeMetrics metrics;
  std::vector<TableRow> rows;
  for (const Case& c : cases) {
    Window window(c);
    for (const auto& [name, moment] : window.moments())
      rows.emplace_back(std::string(c.song) + ' ' + c.instrument + ' ' + name,
                        layout(window.at(moment), {1280, 720}, metrics));
  }
  check_table(rows, LANDFALL_SOURCE_DIR "/tests/app/approved/songs.txt", LANDFALL_OUTPUT_DIR);
}
