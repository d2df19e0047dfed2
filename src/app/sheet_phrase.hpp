#pragma once

#include "app/sheet_tab.hpp"
#include "trade/phrase_file.hpp"

namespace landfall::app::sheet {

/// A phrase on an instrument.
struct PhraseSheet {
  const trade::KeptPhrase* kept = nullptr;      ///< Never null.
  const neck::Instrument* instrument = nullptr; ///< With strings; never null.
  std::optional<int> hand; ///< Fret of the first finger; else where it lies best.
  neck::LabelKind labels = neck::LabelKind::degree;
};

/// Title, facts, tablature, what to do with it. The error is one line: what does not fit the
/// instrument.
Result<Sheet, std::string> phrase_sheet(const PhraseSheet& phrase, const Paper& paper,
                                        const render::TextMetrics& metrics);

} // namespace landfall::app::sheet
