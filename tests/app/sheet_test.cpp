#include "app/data.hpp"
#include "app/library.hpp"
#include "app/own_sets.hpp"
#include "app/phrase_files.hpp"
#include "app/sheet_bars.hpp"
#include "app/sheet_phrase.hpp"
#include "app/sheet_scenes.hpp"
#include "app/sheet_song.hpp"
#include "render/fake_metrics.hpp"
#include "render/fonts.hpp"
#include "song/parser.hpp"
#include "song/unroll.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <set>
#include <sstream>

using namespace landfall;
using namespace landfall::app;
using sheet::Bounds;

namespace {

const render::FakeMetrics metrics;
const std::array papers{sheet::Paper{}, sheet::letter};

song::Song song_named(const std::string& name) {
  std::istringstream nothing;
  const auto loaded = load_song(name, nothing);
  REQUIRE(loaded);
  return *loaded->song;
}

song::Song song_of(const std::string& text) {
  auto song = song::parse_song(text);
  REQUIRE(song);
  return *std::move(song);
}

sheet::Sheet sheet_of(const song::Song& song, const neck::Instrument& instrument,
                      const sheet::Paper& paper = {}, const sheet::Diagrams& diagrams = {},
                      const render::TextMetrics& fonts = metrics) {
  const auto form = unroll(song);
  sheet::SongSheet whole;
  whole.song = &song;
  whole.place.form = &form;
  whole.place.setting.instrument = &instrument;
  whole.place.setting.key = form.key;
  whole.place.setting.set = *theory::parse_note_set("fitting");
  whole.place.setting.home = *neck::find_position(instrument, form.key, {});
  whole.place.diagrams = diagrams;
  whole.beats_per_minute = beats_per_minute(song.tempo, song.meter);
  return song_sheet(whole, paper, fonts);
}

bool overlap(const Bounds& a, const Bounds& b) {
  constexpr double touch = 0.05;
  return a.left + touch < b.right && b.left + touch < a.right && a.top + touch < b.bottom &&
         b.top + touch < a.bottom;
}

std::vector<const sheet::Words*> words_of(const sheet::Page& page) {
  std::vector<const sheet::Words*> all;
  for (const auto& mark : page.marks)
    if (const auto* words = std::get_if<sheet::Words>(&mark))
      all.push_back(words);
  return all;
}

/// The first pair of texts that lie over one another, or nothing.
std::string overlapping_words(const sheet::Page& page) {
  const auto words = words_of(page);
  std::vector<Bounds> boxes;
  for (const auto* each : words)
    boxes.push_back(bounds(*each));
  for (std::size_t i = 0; i < words.size(); ++i)
    for (std::size_t j = i + 1; j < words.size(); ++j)
      if (overlap(boxes[i], boxes[j]))
        return "'" + words[i]->text + "' and '" + words[j]->text + "'";
  return "";
}

std::string outside(const sheet::Page& page, const sheet::Paper& paper) {
  constexpr double bleed = 4; ///< Of rings and strokes beyond the margins.
  for (const auto& mark : page.marks) {
    const auto box = bounds(mark);
    const double least = paper.margin - bleed;
    if (box.left < least || box.top < least || box.right > paper.width - least ||
        box.bottom > paper.height - least)
      return "a mark at " + std::to_string(box.left) + ", " + std::to_string(box.top);
  }
  return "";
}

/// Whether every mark of a region lies within it, and none but the foot's lies in none.
bool covered(const sheet::Page& page, const sheet::Paper& paper) {
  const double foot = paper.height - paper.margin - 12;
  return std::ranges::all_of(page.marks, [&](const sheet::Mark& mark) {
    const auto box = bounds(mark);
    return box.top > foot || std::ranges::any_of(page.regions, [&](const sheet::Region& region) {
             const auto& room = region.bounds;
             return box.top >= room.top - 4 && box.bottom <= room.bottom + 4;
           });
  });
}

void check_layout(const sheet::Sheet& sheet) {
  for (const auto& page : sheet.pages) {
    CHECK(outside(page, sheet.paper) == "");
    CHECK(overlapping_words(page) == "");
    CHECK(covered(page, sheet.paper));
    for (std::size_t i = 1; i < page.regions.size(); ++i)
      CHECK(page.regions[i].bounds.top >= page.regions[i - 1].bounds.bottom);
    CHECK(!page.regions.empty());
    CHECK(page.regions.back().bounds.bottom <=
          sheet.paper.margin + sheet::page_room(sheet.paper) + 0.1);
  }
}

std::string text_of(const sheet::Sheet& sheet) {
  std::string text;
  for (const auto& page : sheet.pages)
    for (const auto* words : words_of(page))
      text += words->text + " ";
  return text;
}

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

std::vector<neck::Instrument> instruments() {
  auto left = neck::standard_guitar();
  left.left_handed = true;
  std::vector<neck::Instrument> all{neck::standard_guitar(), left, neck::standard_keyboard()};
  for (const char* name : {"bass", "ukulele", "banjo", "eight-string"})
    all.push_back(*load_instrument(name));
  return all;
}

} // namespace

TEST_CASE("every song on every paper and instrument stays on its pages without overlaps") {
  for (const auto& file : song_files()) {
    const auto song = song_named(file.string());
    for (const auto& instrument : instruments())
      for (const auto& paper : papers) {
        CAPTURE(file.stem().string());
        CAPTURE(instrument.name);
        check_layout(sheet_of(song, instrument, paper));
      }
  }
}

TEST_CASE("the same in the fonts that are printed") {
  const auto fonts = render::Fonts::open(fonts_folder().string());
  REQUIRE(fonts);
  for (const char* name : {"slipway-at-six", "rope-and-paraffin", "two-harbours", "handrail"})
    for (const auto& instrument : instruments()) {
      CAPTURE(name);
      CAPTURE(instrument.name);
      check_layout(sheet_of(song_named(name), instrument, {}, {true, true, true, true}, **fonts));
    }
}

TEST_CASE("with groups too, and with every diagram alone") {
  const auto song = song_named("handrail");
  for (const auto& instrument : instruments())
    for (const sheet::Diagrams diagrams :
         {sheet::Diagrams{true, true, true, true}, sheet::Diagrams{false, false, false, true},
          sheet::Diagrams{false, false, true, false}, sheet::Diagrams{true, true, false, false}}) {
      CAPTURE(instrument.name);
      check_layout(sheet_of(song, instrument, {}, diagrams));
    }
}

TEST_CASE("each different chord has one block, whole, in the order of the song") {
  const auto song = song_named("rope-and-paraffin");
  std::vector<std::string> expected, found;
  for (const auto& bar : unroll(song).bars)
    for (const auto& chord : bar.chords)
      if (std::ranges::find(expected, ascii(*chord.chord)) == expected.end())
        expected.push_back(ascii(*chord.chord));
  for (const auto& page : sheet_of(song, neck::standard_guitar()).pages)
    for (const auto& region : page.regions)
      if (std::ranges::find(expected, region.what) != expected.end())
        found.push_back(region.what);
  CHECK(found == expected);
}

TEST_CASE("a chord that must be squeezed keeps its bar; long charts keep four bars a line") {
  std::string bars;
  for (int bar = 0; bar < 48; ++bar)
    bars += bar % 3 == 0 ? "| Abm7b5/Gb Db13(#11) Ebmaj7#11/Bb F#7alt " : "| Cmaj7 ";
  const auto song = song_of("title: Long\nkey: Ab\n" + bars + "|\n");
  const auto made = sheet_of(song, neck::standard_guitar());
  check_layout(made);
  std::size_t lines = 0;
  for (const auto& page : made.pages)
    lines += static_cast<std::size_t>(std::ranges::count_if(
        page.regions, [](const auto& region) { return region.what.starts_with("chart line"); }));
  CHECK(lines == 12);
}

TEST_CASE("a long title and long names are broken or cut, never set over something else") {
  std::string title = "title:";
  for (int i = 0; i < 20; ++i)
    title += " Weather";
  const auto song = song_of(title + "\ntrains: " + std::string(100, 'x') + "\n" +
                            std::string(40, 'S') + ":\n| A | D |\n");
  check_layout(sheet_of(song, neck::standard_guitar()));
}

TEST_CASE("the chart has sections, repeats, endings, changes and rests as they are written") {
  const auto song = song_of("key: A\nform: Verse, Bridge, Verse\nVerse:\n|: A | D |1. E :|2. A |\n"
                            "Bridge:\nkey: D\nmeter: 3/4\n|: D | space :| x3\n");
  const auto sections = sheet::chart_sections(song, unroll(song, {{theory::Letter::b, -1}, false}));
  REQUIRE(sections.size() == 2);
  const auto& verse = sections[0].cells;
  const auto& bridge = sections[1].cells;
  using End = sheet::ChartCell::End;
  REQUIRE(verse.size() == 4);
  CHECK(verse[0].opens_repeat);
  CHECK(ascii(*verse[1].chords.front().chord) == "Eb");
  CHECK(verse[2].ending == "1.");
  CHECK(verse[2].end == End::repeat);
  CHECK(verse[3].ending == "2.");
  CHECK(verse[3].end == End::twofold);
  REQUIRE(bridge.size() == 2);
  CHECK(bridge[0].meter_shown);
  CHECK(bridge[0].change == "key of E♭");
  CHECK(ascii(*bridge[0].chords.front().chord) == "Eb");
  CHECK(bridge[1].space);
  CHECK(bridge[1].times == "3 times");
  CHECK(bridge[1].end == End::repeat);
  CHECK(sheet::form_words(song) == "Verse, Bridge, Verse");
}

TEST_CASE("diagrams say which notes: grip, tones and landing notes at their frets") {
  const auto song = song_of("key: A\n| A7 |\n");
  const auto made = sheet_of(song, neck::standard_guitar(), {}, {true, true, true, false});
  std::map<std::string, int> labels;
  for (const auto* words : words_of(made.pages.front()))
    if (words->face == render::Face::bold && words->size < 8)
      ++labels[words->text];
  // E shape at 5, of A7: 5 7 5 6 5 5; the fitting set has no b7, which the grip and the tones have.
  CHECK(labels["5"] >= 6);
  CHECK(labels["3"] >= 5);
  const auto text = text_of(made);
  CHECK(has(text, "all chord tones"));
  CHECK(has(text, "landing notes"));
  CHECK(has(text, "grip"));
  CHECK(has(text, "Pain or numbness"));
}

TEST_CASE("a left-handed neck is the mirror image") {
  const auto song = song_of("key: A\n| A |\n");
  auto left = neck::standard_guitar();
  left.left_handed = true;
  const auto discs = [](const sheet::Sheet& made) {
    std::vector<double> heights, places; // below the first disc, which lies wherever it does
    double first = 0;
    for (const auto& mark : made.pages.front().marks)
      if (const auto* disc = std::get_if<sheet::Disc>(&mark)) {
        heights.push_back(disc->y - (heights.empty() ? 0 : first));
        first = heights.size() == 1 ? disc->y : first;
        places.push_back(disc->x);
      }
    return std::pair(heights, places);
  };
  const auto [right_y, right_x] = discs(sheet_of(song, neck::standard_guitar()));
  const auto [left_y, left_x] = discs(sheet_of(song, left));
  REQUIRE(right_y.size() == left_y.size());
  for (std::size_t i = 1; i < right_y.size(); ++i)
    CHECK(right_y[i] == doctest::Approx(left_y[i]));
  CHECK(right_x != left_x);
}

TEST_CASE("diagrams are read by name; an unknown one is named") {
  CHECK(*sheet::parse_diagrams("Grip, groups") == sheet::Diagrams{true, false, false, true});
  const auto wrong = sheet::parse_diagrams("grip,chords");
  REQUIRE(!wrong);
  CHECK(has(wrong.error().reason, "'chords'"));
}

TEST_CASE("a lesson has a block for each scene, and says where diagrams are an earlier scene's") {
  const auto lesson = practice::read_lesson("title: Two\nabout: A test.\n\n"
                                            "scene: First\nsay: Listen.\nnote: secret\n"
                                            "song: slipway-at-six\nplace: E shape\n"
                                            "show: landing\n\n"
                                            "scene: Second\nsay: Again.\ntempo: 100\n\n"
                                            "scene: Third\nplace: C shape\nloop: 1-2\n",
                                            own_sets());
  REQUIRE(lesson);
  const auto guitar = neck::standard_guitar();
  const auto scenes = sheet::scenes_of(*lesson, guitar, {});
  REQUIRE(scenes);
  const auto made = lesson_sheet(*lesson, *scenes, {}, metrics);
  check_layout(made);
  const auto text = text_of(made);
  CHECK(has(text, "Listen."));
  CHECK(has(text, "Changes and diagrams as in scene 1."));
  CHECK(has(text, "Changes as in scene 1."));
  CHECK(has(text, "100 beats a minute"));
  CHECK(has(text, "loop bars 1–2"));
  CHECK(!has(text, "secret"));
  CHECK(!has(text, "all chord tones"));
}

TEST_CASE("every shipped phrase is tablature on necks, without overlaps, where it sounds right") {
  std::vector<std::string> problems;
  const auto files = phrase_files(problems);
  REQUIRE(files.size() >= 10);
  for (const auto& file : files)
    for (const auto& instrument : instruments()) {
      if (instrument.kind == neck::Instrument::Kind::keyboard)
        continue;
      CAPTURE(file.name);
      CAPTURE(instrument.name);
      const auto made = sheet::phrase_sheet({&file.kept, &instrument, {}}, {}, metrics);
      if (!made) {
        CHECK(has(made.error(), "does not fit"));
        CHECK(instrument.strings.size() < 6);
        continue;
      }
      check_layout(*made);
      const neck::Fretboard board(instrument);
      if (const auto fingering = sheet::fingering_of(file.kept.phrase, board, {}, 5))
        for (std::size_t i = 0; i < file.kept.phrase.notes.size(); ++i) {
          const auto& stop = fingering->stops[i];
          CHECK(board.pitch(board.count - stop.string, stop.fret) ==
                file.kept.phrase.notes[i].midi.number);
        }
    }
}
