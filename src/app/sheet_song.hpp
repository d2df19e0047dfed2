#pragma once

#include "app/sheet_chart.hpp"
#include "app/sheet_chords.hpp"
#include "practice/lesson.hpp"

namespace landfall::app::sheet {

/// What a handout of a song needs.
struct SongSheet {
  const song::Song* song = nullptr; ///< Never null.
  Place place;
  double beats_per_minute = 0;
};

/// Title, facts, changes, note set, chords, what to do with it, cautions.
Sheet song_sheet(const SongSheet& song, const Paper& paper, const render::TextMetrics& metrics);

// Its parts, for other handouts too.

/// A title with quiet lines below it.
Block title_block(const std::string& title, const std::vector<std::string>& lines, double room,
                  const render::TextMetrics& metrics);
/// `Key of A · 4/4 · 84 beats a minute · straight eighths`; then instrument, place and set.
std::vector<std::string> fact_lines(const SongSheet& song);
/// `Guitar (E2 A2 D3 G3 B3 E4), capo at 2, frets count from it`
std::string instrument_words(const neck::Instrument& instrument);
/// A small heading and a paragraph.
Block paragraph(const std::string& heading, const std::string& text, double room,
                const render::TextMetrics& metrics);
/// Hands and ears.
Block cautions(double room, const render::TextMetrics& metrics);

} // namespace landfall::app::sheet
