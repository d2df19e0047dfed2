// A walk through the window while the band plays: every action of the table is asked for by its
// key, every page is opened and closed, by keys and by the mouse, and an independent client hears
// whether the band goes on.

#include "app/actions.hpp"
#include "real/screen.hpp"
#include "real/studio.hpp"
#include "render/close_mark.hpp"

#include <algorithm>
#include <set>
#include <sstream>
#include <thread>

using namespace landfall;
using namespace landfall::real;
using app::Action;
using std::chrono::milliseconds;

namespace {

constexpr milliseconds page_may_open{40};
constexpr std::uint64_t second = 48'000; ///< In frames of the sound server.

/// They open a page; others that do so are found out.
const std::set<Action> pages{
    Action::sets,     Action::instrument,  Action::band_page, Action::takes,   Action::calibrate,
    Action::history,  Action::what_next,   Action::phrases,   Action::lessons, Action::scenes,
    Action::songs,    Action::quick_chart, Action::set_lists, Action::ports,   Action::rig,
    Action::controls, Action::add_scene,   Action::help};

/// Asked for again at once, so that what follows finds the window as it was.
const std::set<Action> twice{Action::mute_drums,   Action::mute_bass,   Action::mute_comping,
                             Action::places,       Action::record_call, Action::routine,
                             Action::notes_window, Action::neck_only,   Action::chalk,
                             Action::play_on_keys, Action::full_screen, Action::board};

/// After these the band is started again.
const std::set<Action> stops{Action::toggle_play, Action::end_now,         Action::calibrate,
                             Action::freeze,      Action::chord_on,        Action::chord_back,
                             Action::beat_on,     Action::beat_back,       Action::play_through,
                             Action::last_chorus, Action::what_next_start, Action::routine};

/// As the screen's keyboard calls the keys that type no sign.
std::string x_name(std::string key) {
  const std::map<std::string, std::string> names{
      {"Space", "space"},      {"Backspace", "BackSpace"}, {"PageUp", "Prior"},
      {"PageDown", "Next"},    {"Ctrl+=", "ctrl+equal"},   {"Ctrl+-", "ctrl+minus"},
      {"Ctrl++", "ctrl+plus"}, {"Ctrl+,", "ctrl+comma"}};
  if (const auto found = names.find(key); found != names.end())
    return found->second;
  if (key.starts_with("Ctrl+"))
    key = "ctrl+" + std::string(1, static_cast<char>(key.back() - 'A' + 'a'));
  return key;
}

const app::ActionRow& row_of(Action action) {
  const auto table = app::action_table();
  return *std::find_if(table.begin(), table.end(),
                       [&](const auto& row) { return row.action == action; });
}

/// What is said on standard error, without what RtMidi says of a server that was busy.
std::string complaints(const std::string& said) {
  std::string rest, line;
  for (std::istringstream lines(said); std::getline(lines, line);)
    if (!line.empty() && !line.starts_with("MidiInJack::") && !line.starts_with("MidiOutJack::"))
      rest += line + "\n";
  return rest;
}

/// The window, playing the song that it begins with.
struct Walk {
  Walk() : screen(studio.program.folder()) {
    if (studio && !screen.running())
      MESSAGE("skipped: Xvfb or xdotool is not installed");
  }
  explicit operator bool() const { return studio && screen.running(); }

  void open() {
    window = studio.program.start(
        {"slipway-at-six", "--tempo", "300", "--out", "studio", "--in", "studio"},
        screen.environment());
    const bool shown = screen.focus(*window);
    INFO(window->err());
    REQUIRE(shown);
    REQUIRE((plays_on() || plays_on())); // the port may open late
    screen.press("Escape");              // the first questions
    REQUIRE(eventually([&] { return shows_board(); }));
  }

  void press(Action action) const {
    const std::string key(row_of(action).key);
    key.size() == 1 ? screen.type(key) : screen.press(x_name(key));
  }

  /// Whether there is a neck in the window: it has a colour that nothing else has.
  bool shows_board() const {
    const auto board = [](const render::Palette& palette) {
      return Pixel{palette.board.red, palette.board.green, palette.board.blue};
    };
    return screen.share_of({board(render::stage_palette), board(render::paper_palette)}) >= 4;
  }

  bool opens_page() const {
    return eventually([&] { return !shows_board(); }, milliseconds(3000));
  }
  bool closes_page() const {
    return eventually([&] { return shows_board(); }, milliseconds(3000));
  }

  std::vector<std::uint64_t> note_ons() const {
    std::vector<std::uint64_t> frames;
    for (const auto& recorded : studio.client->recorded(0))
      if (midi::is_note_on(recorded.message))
        frames.push_back(recorded.frame);
    return frames;
  }

  bool plays_on() const {
    const auto before = note_ons().size();
    return eventually([&] { return note_ons().size() > before + 2; });
  }

  /// The longest time between two notes of those since `first`, in frames.
  std::uint64_t longest_silence(std::size_t first) const {
    const auto notes = note_ons();
    std::uint64_t longest = 0;
    for (auto i = first + 1; i < notes.size(); ++i)
      longest = std::max(longest, notes[i] - notes[i - 1]);
    return longest;
  }

  /// One action of the table, and back to the picture.
  void visit(Action action) {
    INFO(std::string(row_of(action).name));
    press(action);
    if (twice.contains(action)) {
      press(action);
      if (action == Action::notes_window)
        screen.focus(*window); // it may have taken the keys with it
    } else if (pages.contains(action)) {
      CHECK(opens_page());
    } else if (action == Action::settings) { // beside the picture, so that the neck may show
      screen.press("Escape");
    } else {
      std::this_thread::sleep_for(page_may_open);
    }
    if (!shows_board())
      screen.press("Escape");
    CHECK(closes_page());
    if (stops.contains(action))
      press(Action::from_top);
    INFO(window->err());
    REQUIRE(window->running());
  }

  void end() {
    CHECK(plays_on());
    screen.press("ctrl+q");
    CHECK(window->wait() == 0);
    CHECK(complaints(window->err()) == "");
  }

  Studio studio;
  Screen screen;
  std::unique_ptr<Child> window;
};

/// Where the mark is that closes a page of this kind.
render::Rect mark_of(Action action, render::Size size, double text_scale) {
  render::Frame frame;
  frame.text_scale = text_scale;
  frame.page = render::ListPage{};
  if (action == Action::quick_chart)
    frame.page = render::EditPage{};
  return render::close_mark(frame, render::bands(frame, size), render::Scale(size, text_scale));
}

} // namespace

TEST_CASE("every action is asked for by its key while the band plays, and every page is closed") {
  Walk walk;
  if (!walk)
    return;
  walk.open();
  std::string_view section;
  for (const auto& row : app::action_table()) {
    if (row.section != section && (section == "Trade" || row.section == "Trade"))
      walk.press(Action::trade); // its actions mean something there only
    if (row.section != section)
      CHECK(walk.plays_on());
    section = row.section;
    if (row.action == Action::lessons) { // and into the first of them
      walk.press(row.action);
      CHECK(walk.opens_page());
      walk.screen.press("Return");
      CHECK(walk.closes_page());
    } else if (row.action != Action::quit && row.action != Action::trade) {
      walk.visit(row.action);
    }
  }
  walk.end();
}

TEST_CASE("in a small window with the largest text, in both themes, the mouse closes every page, "
          "and none stops the band") {
  Walk walk;
  if (!walk)
    return;
  walk.open();
  const render::Size small{800, 450};
  walk.screen.resize(small.width, small.height);
  for (int i = 0; i < 8; ++i)
    walk.press(Action::text_larger);
  const auto first = walk.note_ons().size();
  for (int theme = 0; theme < 2; ++theme) {
    for (const auto action : pages) {
      if (action == Action::calibrate || action == Action::scenes || action == Action::add_scene)
        continue; // clicks alone, and what a lesson is needed for
      INFO(std::string(row_of(action).name));
      walk.press(action);
      CHECK(walk.opens_page());
      const auto mark = mark_of(action, small, 2.0).middle();
      walk.screen.click(mark.x, mark.y);
      CHECK(walk.closes_page());
    }
    walk.press(Action::theme);
  }
  walk.screen.click(40, 12); // the song's name
  CHECK(walk.opens_page());
  walk.screen.click(100, 300); // a song
  CHECK(walk.closes_page());
  walk.screen.click(770, 438); // the last hint: all keys
  CHECK(walk.opens_page());
  walk.screen.press("Escape");
  CHECK(walk.closes_page());
  CHECK(walk.plays_on());
  CHECK(walk.longest_silence(first) < 2 * second);
  walk.end();
}
