#pragma once

#include "app/library.hpp"
#include "app/settings.hpp"
#include "app/text_field.hpp"
#include "midi/ports.hpp"
#include "render/frame.hpp"
#include "render/hit.hpp"
#include "render/input.hpp"

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace landfall::app {

/// A page of rows to choose from: what the rows mean, and what is typed into its field.
struct ChoiceList {
  struct Item {
    std::string text;
    std::string detail;
    std::string value; ///< What choosing it means; "" for a heading.
    std::vector<std::string> preview;
    bool chosen = false;
    std::vector<render::ChartLine> chart = {};
    std::string back = {}; ///< What choosing it backwards means; "" where it has no other way.
  };
  /// What may be made of the text that is typed: offered first.
  using Typed = std::optional<Item> (*)(const std::string& query);

  std::string title;
  std::vector<std::string> lines;
  std::string hints; ///< At its foot: keys of the page's own, as in a frame's hints.
  bool has_query = false;
  bool beside = false;
  TextField query;
  std::string query_hint = "type to search";
  int selected = 0;         ///< Among the rows shown.
  std::optional<int> first; ///< Where the rows stay after a click; none: the focus in the middle.
  std::vector<Item> items;
  Typed typed = nullptr;

  /// The items that the query leaves.
  std::vector<const Item*> shown() const;
  void move(int rows);
  /// Into the query; the first row that is left gets the focus.
  void type(std::string_view text);
  /// The keys that every list knows: rows, and the query where there is one. False for any other.
  bool press(const render::KeyPress& press);
  /// A click on a row gives it the focus, one in the query the caret its place. True on a row that
  /// can be chosen.
  bool click(const render::Hit& hit);
  /// The item under the focus; null if there is none.
  const Item* focused() const;
  /// Its value; empty if there is none.
  std::string value() const;
  render::ListPage page() const;
  /// Query, focus and place of another list, of which this is the next state.
  void stay_as(const ChoiceList& before);

private:
  bool press_query(const render::KeyPress& press);
  void read_query();

  std::optional<Item> typed_item_;
};

/// All songs, with their form as a preview. Reads every song file.
ChoiceList song_list(const std::string& present);

/// `out:NAME` and `in:NAME` for each port and for what needs none; `own-sound` and `through`.
ChoiceList port_list(const midi::PortLists& ports, const Settings& settings);

/// `set:NAME` for every note set: what suits each chord, arpeggios, the player's own, all scales.
ChoiceList set_list(const std::string& present);

/// `instrument:NAME` for each, with its tuning.
ChoiceList instrument_list(const std::string& present);

/// `tuning:TEXT` for the instrument's own tuning (""), those that are shipped for as many strings,
/// and whatever is typed, low string first.
ChoiceList tuning_list(const InstrumentChoice& present);

} // namespace landfall::app
