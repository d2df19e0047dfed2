#pragma once

#include "app/sheet_fingering.hpp"
#include "app/sheet_flow.hpp"
#include "app/sheet_rhythm.hpp"
#include "neck/label.hpp"

namespace landfall::app::sheet {

/// A phrase as tablature shows it.
struct Tablature {
  const trade::Phrase* phrase = nullptr; ///< Never null.
  std::vector<Stop> stops;               ///< Of each note.
  neck::Fretboard board;
  neck::LabelKind labels = neck::LabelKind::degree;
  int hand = 0; ///< Fret of the first finger, for finger labels.
};

/// Bars on systems of `room`, each a block: chord symbols, bends, strings with frets, rhythm, and
/// what the notes are, those that it lands on in bold.
std::vector<Block> tab_blocks(const Tablature& tab, double room,
                              const render::TextMetrics& metrics);

} // namespace landfall::app::sheet
