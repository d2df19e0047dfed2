#include "app/data.hpp"
#include "app/run_command.hpp"
#include "app/take_picture.hpp"
#include "app/takes_page.hpp"
#include "neck/instrument.hpp"
#include "practice/sample_session.hpp"

#include <deque>
#include <fstream>

using namespace landfall;
using namespace landfall::app;
using namespace landfall::test;

namespace {

namespace fs = std::filesystem;

/// Two choruses of A | D at 120, their roots on each change but the last.
Take sample_take() {
  auto setup = setup_for("A | D");
  practice::Session session(setup);
  session.start();
  play(session, {}, bar * 4);
  Take take;
  take.head = {setup.song, session.timeline(), 1, {}, bar * 4};
  take.instrument = std::make_shared<const neck::Instrument>(neck::standard_guitar());
  for (int number = 0; number < 3; ++number) {
    const int root = number % 2 == 0 ? 57 : 62;
    take.player.push_back({bar * number, midi::note_on(0, root, 90)});
    take.player.push_back({bar * number + quarter, midi::note_off(0, root)});
  }
  return take;
}

struct Folder {
  ScratchFolder scratch;
  std::shared_ptr<const band::FeelBook> feels = std::make_shared<PlainFeels>();
  std::deque<Background::Job> jobs;
  std::string opened, said;

  void add(const std::string& name) const {
    const auto bytes = take_bytes(sample_take(), {}, *feels);
    std::ofstream(scratch.path / (name + ".mid"), std::ios::binary)
        .write(reinterpret_cast<const char*>(bytes.data()),
               static_cast<std::streamsize>(bytes.size()));
  }
  bool has(const std::string& name) const { return fs::exists(scratch.path / (name + ".mid")); }

  TakesPage page() {
    TakesPage::Calls calls;
    calls.open = [this](const auto& take) { opened = take.filename().string(); };
    calls.say = [this](const auto& words) { said = words; };
    calls.post = [this](auto job) { jobs.push_back(std::move(job)); };
    return {scratch.path, feels, std::move(calls)};
  }
  void work() {
    for (; !jobs.empty(); jobs.pop_front())
      CHECK(jobs.front()() == "");
  }
};

render::ListPage shown(TakesPage& page) {
  FrameInput input;
  page.show(input);
  return std::get<render::ListPage>(input.page);
}

void press(TakesPage& page, const char* name, const char* text = "", bool control = false) {
  render::KeyPress key;
  key.name = name;
  key.text = text;
  key.control = control;
  CHECK(page.press(key));
}

void type_over(TakesPage& page, int erased, const char* text) {
  for (int i = 0; i < erased; ++i)
    press(page, "Backspace");
  page.type(text);
  press(page, "Return");
}

} // namespace

TEST_CASE("takes stand with the latest first, and say what they hold once it is read") {
  Folder folder;
  folder.add("2026-03-01 1204 Old");
  folder.add("2026-04-01 0900 New");
  std::ofstream(folder.scratch.path / "2026-05-01 1000 broken.mid") << "MThd";
  auto page = folder.page();
  CHECK(shown(page).rows[1].detail == "…");
  CHECK(page.moving());
  folder.work();
  const auto list = shown(page);
  CHECK_FALSE(page.moving());
  REQUIRE(list.rows.size() == 3);
  CHECK(list.rows[1].text == "2026-04-01 0900 New");
  CHECK(list.rows[1].detail == "0:08 · 3 of 3");
  CHECK(list.rows[0].detail != "…");
  press(page, "Down");
  CHECK(shown(page).preview.size() == 2);
  press(page, "Return");
  CHECK(folder.opened == "2026-04-01 0900 New.mid");
}

TEST_CASE("a take is named behind its date, and overwrites nothing") {
  Folder folder;
  folder.add("2026-03-01 1204 Old");
  folder.add("2026-03-01 1204 Other");
  auto page = folder.page();
  press(page, "Down"); // Old: names that begin alike stand from the last
  press(page, "F2");
  CHECK(shown(page).query == "Old");
  type_over(page, 3, "Other");
  CHECK(folder.said.find("already") != std::string::npos);
  CHECK(folder.has("2026-03-01 1204 Old"));
  type_over(page, 5, "../x");
  CHECK(folder.has("2026-03-01 1204 Old"));
  type_over(page, 4, "Slow one");
  CHECK(folder.has("2026-03-01 1204 Slow one"));
  CHECK_FALSE(folder.has("2026-03-01 1204 Old"));
  CHECK(shown(page).rows[static_cast<std::size_t>(shown(page).selected)].text ==
        "2026-03-01 1204 Slow one");
  press(page, "F2");
  press(page, "Escape");
  CHECK(folder.has("2026-03-01 1204 Slow one"));
}

TEST_CASE("a take's name is changed where its caret is, by keys and by a click") {
  Folder folder;
  folder.add("2026-03-01 1204 Old");
  auto page = folder.page();
  press(page, "F2");
  press(page, "Home");
  page.type("My ");
  CHECK(shown(page).query_caret == 3);
  press(page, "Delete");
  page.click(render::HitField{0, 5}, render::MouseButton::left);
  page.type("e");
  press(page, "Return");
  CHECK(folder.has("2026-03-01 1204 My lde"));
}

TEST_CASE("a take that is put away comes back, and is never gone from the disk") {
  Folder folder;
  folder.add("2026-03-01 1204 Old");
  folder.add("2026-04-01 0900 New");
  auto page = folder.page();
  press(page, "Delete");
  CHECK(shown(page).rows.size() == 1);
  CHECK(folder.has("put away/2026-04-01 0900 New"));
  press(page, "Delete");
  CHECK(shown(page).lines.front().find("None yet") == 0);
  press(page, "Z", "", true);
  press(page, "Z", "", true);
  CHECK(shown(page).rows.size() == 2);
  CHECK(folder.has("2026-04-01 0900 New"));
  press(page, "Z", "", true);
  CHECK(folder.said == "nothing was put away");
}

TEST_CASE("what the worker has still to read when the page is closed is left") {
  Folder folder;
  folder.add("2026-03-01 1204 Old");
  { const auto page = folder.page(); }
  folder.work();
}

TEST_CASE("a passage of a take is a phrase over its chords, as it was played") {
  const TakePicture picture(sample_take(), std::make_shared<PlainFeels>());
  const auto kept = passage_of(picture, bar, bar * 3);
  REQUIRE(kept);
  const auto& phrase = kept->phrase;
  CHECK(phrase.bars == 2);
  CHECK(phrase.length == bar * 2);
  REQUIRE(phrase.chords.size() == 2);
  CHECK(ascii(phrase.chords[0].chord.value()) == "D");
  REQUIRE(phrase.notes.size() == 2);
  CHECK(phrase.notes[0].start == Ticks{});
  CHECK(phrase.notes[0].length == quarter);
  CHECK(phrase.notes[0].midi.number == 62);
  CHECK(ascii(phrase.notes[1].degree) == "1");
  CHECK(phrase.notes[1].start == bar);
  CHECK(kept->name.ends_with(", bar 2"));
  CHECK(trade::read_phrase(trade::phrase_text(*kept)).value().phrase == phrase);
}

TEST_CASE("where nothing was played, or no bar of the song is, there is no phrase") {
  const TakePicture picture(sample_take(), std::make_shared<PlainFeels>());
  CHECK(passage_of(picture, bar * 3, bar * 4).error() == "nothing was played there");
  CHECK(!passage_of(picture, Ticks{}, Ticks{}));
  CHECK(!passage_of(picture, bar * -1, Ticks{}));
}
