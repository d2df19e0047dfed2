#include "app/music_stage.hpp"
#include "render/bands.hpp"
#include "render/grounds.hpp"
#include "render/keyboard_geometry.hpp"
#include "render/layout.hpp"
#include "render/layout_checks.hpp"
#include "render/neck_geometry.hpp"
#include "render/places.hpp"
#include "render/text.hpp"

// The window over real music: songs, moments, instruments, sizes and looks, drawn in a fixed
// pseudo-random order of their combinations.

using namespace landfall;
using namespace landfall::render;

namespace {

constexpr unsigned combinations = 800;

/// A text as it was set, all runs of its block together.
struct Block {
  std::string text;
  Rect box;
};

std::vector<Block> blocks_of(const DrawList& list) {
  std::map<int, Block> blocks;
  for (const checks::SeenText& seen : checks::visible_texts(list)) {
    const auto [at, fresh] = blocks.try_emplace(seen.text->block, Block{"", seen.box});
    Rect& box = at->second.box;
    at->second.text += seen.text->text;
    box = from_edges(std::min(box.x, seen.box.x), std::min(box.y, seen.box.y),
                     std::max(box.right(), seen.box.right()),
                     std::max(box.bottom(), seen.box.bottom()));
  }
  std::vector<Block> out;
  for (const auto& [number, block] : blocks)
    out.push_back(block);
  return out;
}

/// A disc with a label that must be there.
struct Labelled {
  Point at;
  std::string label;
};

class LandingNotes {
public:
  static std::vector<Labelled> of(const Frame& frame, Size size) {
    LandingNotes notes;
    const Bands all = bands(frame, size);
    if (const auto* places = std::get_if<PlacesPage>(&frame.page)) {
      const PlacesGeometry geometry(*places, all.page, Scale(size, frame.text_scale));
      for (std::size_t i = 0; i < geometry.panels().size(); ++i)
        notes.on(places->panels[i].neck, geometry.panels()[i].board);
    } else {
      std::visit([&](const auto& board) { notes.on(board, all.own.board); }, frame.board);
    }
    return std::move(notes.found_);
  }

private:
  void on(const Neck& neck, const Rect& board) {
    const NeckGeometry geometry(neck, board);
    for (const Place& place : neck.places)
      if (geometry.shows(place.string, place.fret))
        add(place.mark, geometry.place(place.string, place.fret));
  }
  void on(const Keyboard& keyboard, const Rect& board) {
    const KeyboardGeometry geometry(keyboard, board);
    for (const Key& key : keyboard.keys)
      if (geometry.shows(key.midi))
        add(key.mark, geometry.place(key.midi));
  }
  void add(const Mark& mark, Point at) {
    if (mark.role == Role::landing && !mark.label.empty())
      found_.push_back({at, mark.label});
  }

  std::vector<Labelled> found_;
};

/// Whether a label has no room in a disc even where it is smallest.
bool too_small(const TextMetrics& metrics, const std::string& label, double radius) {
  const Pen pen({}, metrics);
  const double half = std::sqrt(std::max(0.0, radius * radius - 9.0)); // at 3 pixels' height
  return pen.width({Face::bold, type::least_label, {}}, label) > 1.9 * half - 1;
}

/// Landing notes without a disc, or without their label within it where it has room.
std::string unlabelled(const Frame& frame, const DrawList& list, const TextMetrics& metrics) {
  const std::vector<Block> blocks = blocks_of(list);
  std::string found;
  for (const Labelled& note : LandingNotes::of(frame, list.size)) {
    const auto disc = std::find_if(list.commands.begin(), list.commands.end(), [&](const auto& c) {
      const auto* d = std::get_if<Disc>(&c);
      return d != nullptr && d->center == note.at && d->color == palette(frame.theme).sand;
    });
    if (disc == list.commands.end()) {
      found += "no disc for " + note.label + "; ";
      continue;
    }
    const Rect within = bounds(*disc);
    if (!too_small(metrics, note.label, std::get<Disc>(*disc).radius) &&
        std::none_of(blocks.begin(), blocks.end(), [&](const Block& block) {
          return block.text == note.label && block.box.holds(note.at) && block.box.x >= within.x &&
                 block.box.right() <= within.right();
        }))
      found += note.label + " is not in its disc of " +
               std::to_string(std::get<Disc>(*disc).radius) + "; ";
  }
  return found;
}

/// Words too small to be read.
std::string tiny(const DrawList& list) {
  std::string found;
  for (const checks::SeenText& seen : checks::visible_texts(list))
    if (seen.text->size < type::least_label)
      found += seen.text->text + " of " + std::to_string(seen.text->size) + "; ";
  return found;
}

} // namespace

TEST_CASE("a label that is missing, a text upon another and one beyond the window are found") {
  const test::Library library;
  unsigned seed = 0;
  while (test::Stage(library, seed).covered())
    ++seed;
  const Frame frame = test::Stage(library, seed).frame();
  const DrawList good = layout(frame, {1280, 720}, *library.fonts);
  const auto notes = LandingNotes::of(frame, good.size);
  REQUIRE_FALSE(notes.empty());
  REQUIRE(unlabelled(frame, good, *library.fonts) == "");
  DrawList bad = good;
  std::erase_if(bad.commands, [&](const Command& c) {
    return std::holds_alternative<Text>(c) && bounds(c).holds(notes.front().at);
  });
  CHECK(unlabelled(frame, bad, *library.fonts) != "");
  bad = good;
  Text stray{Face::bold, 6, {20, 100}, {40, 8, 2}, {}, 9999, "stray"};
  bad.commands.emplace_back(stray);
  CHECK(tiny(bad) != "");
  stray.at = notes.front().at;
  bad.commands.back() = stray;
  CHECK(checks::collisions(bad) != "");
  stray.at.x = 1270;
  bad.commands.back() = stray;
  CHECK(checks::strays(bad) != "");
}

TEST_CASE(
    "over real music no texts meet, nothing is cut or faint, and landing notes have their labels") {
  const test::Library library;
  std::array<int, 2> labels{}, left_out{}; // on boards; on panels of a key's places
  for (unsigned i = 0; i < combinations; ++i) {
    test::Stage stage(library, i);
    const Frame frame = stage.frame();
    const DrawList list = layout(frame, stage.size(), *library.fonts);
    INFO(i << ": " << stage.words());
    CHECK(checks::collisions(list) == "");
    CHECK(checks::strays(list) == "");
    CHECK(tiny(list) == "");
    if (i % 4 == 0)
      CHECK(checks::faint(list, palette(frame.theme)) == "");
    if (std::holds_alternative<HelpPage>(frame.page))
      continue;
    const bool places = std::holds_alternative<PlacesPage>(frame.page);
    CHECK(unlabelled(frame, list, *library.fonts) == "");
    for (const Labelled& note : LandingNotes::of(frame, list.size)) {
      ++labels[places];
      left_out[places] +=
          std::none_of(list.commands.begin(), list.commands.end(), [&](const Command& c) {
            return std::holds_alternative<Text>(c) && bounds(c).holds(note.at);
          });
    }
  }
  CHECK(labels[0] > 2000);
  CHECK(left_out[0] * 1000 < labels[0]);
  CHECK(left_out[1] * 50 < labels[1]);
}
