#pragma once

#include "app/sheet_figure.hpp"
#include "app/sheet_flow.hpp"
#include "app/song_view.hpp"

namespace landfall::app::sheet {

/// Which diagrams a chord has.
struct Diagrams {
  bool grip = true, tones = true, landing = true, groups = false;

  bool operator==(const Diagrams&) const = default;
};

/// Names with commas: `grip,tones,landing,groups`.
Result<Diagrams> parse_diagrams(std::string_view text);

/// A song in one place, as a handout shows it.
struct Place {
  const song::Form* form = nullptr; ///< Never null; outlives the place.
  neck::Setting setting;
  neck::Target target;
  neck::LabelKind labels = neck::LabelKind::degree;
  Diagrams diagrams;
};

/// For each different chord of the form, in each key that the form has it in, a block with its
/// diagrams, in the order in which they come.
std::vector<Block> chord_blocks(const Place& place, double room,
                                const render::TextMetrics& metrics);

/// The note set in the place, beside it what the signs mean.
Block set_block(const Place& place, double room, const render::TextMetrics& metrics);

} // namespace landfall::app::sheet
