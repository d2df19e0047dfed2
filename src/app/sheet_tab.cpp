#include "app/sheet_tab.hpp"

#include "app/sheet_rhythm_line.hpp"
#include "app/words.hpp"

#include <algorithm>
#include <cmath>

namespace landfall::app::sheet {
namespace {

constexpr double string_gap = 9, names_width = 16, meter_width = 18, bar_pad = 12;
constexpr double chord_height = 22, bend_height = 22, labels_height = 12, chord_size = 15;
constexpr double fret_size = 9.5, stretched_from = 0.6;

std::string bend_words(double cents) {
  const auto quarters = std::lround(cents / 50);
  if (std::abs(cents - static_cast<double>(quarters) * 50) > 10)
    return std::to_string(std::lround(cents)) + " cents";
  constexpr std::array<const char*, 4> parts{"", "¼", "½", "¾"};
  if (quarters == 4)
    return "full";
  const auto whole = std::abs(quarters) / 4;
  return (quarters < 0 ? "−" : "") + (whole > 0 ? std::to_string(whole) : "") +
         parts[static_cast<std::size_t>(std::abs(quarters) % 4)];
}

/// How wide a value is set, before lines are filled.
double value_width(Ticks length) {
  return 15 + 13 * std::sqrt(static_cast<double>(length.count) / ticks_per_quarter);
}

double natural_width(const TabBar& bar) {
  double width = 2 * bar_pad;
  for (const auto& beat : bar.beats)
    width += value_width(ticks_of(beat.value));
  return width;
}

/// One line of bars.
class System {
public:
  System(const Tablature& tab, bool first, const render::TextMetrics& metrics)
      : tab_(tab), phrase_(*tab.phrase), first_(first), pen_(metrics) {}

  static double lead(bool first) { return names_width + (first ? meter_width : 0); }

  Block draw(const TabBar* from, const TabBar* end, double stretch, bool last) {
    for (const auto* bar = from; bar != end; ++bar)
      for (const auto& beat : bar->beats)
        for (const auto note : beat.notes)
          bends_ = bends_ || phrase_.notes[note].bend_cents.has_value();
    draw_names();
    double x = lead(first_);
    draw_bar_line(names_width - 4, false);
    for (const auto* bar = from; bar != end; ++bar) {
      const double width = natural_width(*bar) * stretch;
      draw_bar(*bar, x, width, stretch);
      x += width;
      draw_bar_line(x, last && bar + 1 == end);
    }
    for (int string = 0; string < tab_.board.count; ++string)
      strings_.push_back(Line{names_width - 4, row(string), x, row(string), 0.6, 0.25});
    auto marks = strings_;
    std::ranges::move(pen_.take(), std::back_inserter(marks));
    return {"system", std::move(marks), bottom() + 5 + rhythm_height + labels_height, 16, false};
  }

private:
  double top() const { return chord_height + (bends_ ? bend_height : 4); }
  double bottom() const { return top() + string_gap * (tab_.board.count - 1); }
  /// Of a string, 0 for the highest number.
  double row(int string) const { return bottom() - string_gap * string; }

  void draw_names() {
    const bool flats = signature(phrase_.key) < 0;
    for (int string = 0; string < tab_.board.count; ++string) {
      const int open = pitch_class(tab_.board.strings[static_cast<std::size_t>(string)].open);
      pen_.write({7, Face::regular, 0.2}, 3.5, row(string) + 2.5,
                 render::with_signs(ascii(theory::plain_note(open, flats))), Align::middle);
    }
    if (!first_)
      return;
    const double middle = (top() + bottom()) / 2, x = names_width + 4;
    const Style style{14, Face::bold};
    pen_.write(style, x, middle - 2, std::to_string(phrase_.meter.beats), Align::middle);
    pen_.write(style, x, middle + 11.5, std::to_string(phrase_.meter.unit), Align::middle);
  }

  void draw_bar_line(double x, bool last) {
    if (last)
      pen_.line(x - 4, top(), x - 4, bottom(), 0.7);
    pen_.line(x - (last ? 1 : 0), top(), x - (last ? 1 : 0), bottom(), last ? 2 : 0.7);
  }

  void draw_bar(const TabBar& bar, double left, double width, double stretch) {
    std::vector<double> places;
    double x = left + bar_pad * stretch;
    for (const auto& beat : bar.beats) {
      places.push_back(x + 4);
      x += value_width(ticks_of(beat.value)) * stretch;
    }
    if (bar.number > 1 && bar.start >= Ticks{})
      pen_.write({6.5, Face::regular, 0.2}, left + 2, top() - 3, std::to_string(bar.number));
    draw_chords(bar, places, left + width);
    for (std::size_t i = 0; i < bar.beats.size(); ++i)
      draw_frets(bar.beats[i], places[i]);
    draw_rhythm(pen_, bar, song::beat_length(phrase_.meter), places, bottom() + 5);
    draw_labels(bar, places);
  }

  void draw_chords(const TabBar& bar, const std::vector<double>& places, double right) {
    double end = 0;
    for (const auto& chord : phrase_.chords) {
      if (chord.at < bar.start || chord.at >= bar.start + bar.length)
        continue;
      const double x = std::max(end, place_of(bar, places, right, chord.at) - 4);
      end = x + pen_.write_chord(chord_text(chord.chord), chord_size, x, chord_size * 0.95) + 5;
    }
  }

  /// Where a tick lies between the beats.
  static double place_of(const TabBar& bar, const std::vector<double>& places, double right,
                         Ticks at) {
    for (std::size_t i = 0; i < bar.beats.size(); ++i) {
      const auto length = ticks_of(bar.beats[i].value);
      const double next = i + 1 < places.size() ? places[i + 1] : right;
      if (at < bar.beats[i].at + length)
        return places[i] +
               (next - places[i]) *
                   static_cast<double>(std::max((at - bar.beats[i].at).count, std::int64_t{0})) /
                   static_cast<double>(length.count);
    }
    return places.empty() ? right : places.back();
  }

  void draw_frets(const Beat& beat, double x) {
    for (const auto index : beat.notes) {
      const auto& stop = tab_.stops[index];
      const double y = row(tab_.board.count - stop.string);
      const auto fret = std::to_string(stop.fret);
      const auto text = beat.tied ? "(" + fret + ")" : fret;
      const Style style{beat.tied ? fret_size - 2 : fret_size, Face::semibold};
      const double wide = pen_.width(style, text);
      pen_.add(Box{x - wide / 2 - 1, y - 4, wide + 2, 8, 1});
      pen_.write(style, x, y + style.size * 0.35, text, Align::middle);
      if (phrase_.notes[index].bend_cents && !beat.tied)
        draw_bend(*phrase_.notes[index].bend_cents, x + wide / 2 + 1.5, y);
    }
  }

  void draw_bend(double cents, double x, double y) {
    const double peak = top() - 10, right = x + 8;
    pen_.add(Curve{{x, y, x + 5, y, right, y - 2, right, peak + 1}, 0.9});
    pen_.line(right, peak, right - 2, peak + 4, 0.9);
    pen_.line(right, peak, right + 2, peak + 4, 0.9);
    pen_.write({7.5, Face::semibold}, right, peak - 3, bend_words(cents), Align::middle);
  }

  std::string label(const trade::PhraseNote& note, const Stop& stop) const {
    neck::NeckNote shown;
    shown.string = stop.string;
    shown.fret = stop.fret;
    shown.midi = note.midi;
    shown.degree = note.degree;
    const auto& chord = phrase_.chords[static_cast<std::size_t>(note.chord)].chord;
    shown.note = theory::note_at(chord ? chord->root : phrase_.key.tonic, note.degree);
    neck::Position hand;
    hand.low = tab_.hand;
    return render::with_signs(neck::label(shown, tab_.labels, phrase_.key, hand));
  }

  void draw_labels(const TabBar& bar, const std::vector<double>& places) {
    const double y = bottom() + 5 + rhythm_height + 9;
    for (std::size_t i = 0; i < bar.beats.size(); ++i) {
      if (bar.beats[i].tied || bar.beats[i].notes.empty())
        continue;
      const auto index = bar.beats[i].notes.back();
      const auto& note = phrase_.notes[index];
      const bool lands = note.role == trade::PhraseRole::landing;
      pen_.write({8, lands ? Face::bold : Face::regular, lands ? 0 : 0.15}, places[i], y,
                 label(note, tab_.stops[index]), Align::middle);
    }
  }

  const Tablature& tab_;
  const trade::Phrase& phrase_;
  bool first_;
  bool bends_ = false;
  Pen pen_;
  std::vector<Mark> strings_;
};

} // namespace

std::vector<Block> tab_blocks(const Tablature& tab, double room,
                              const render::TextMetrics& metrics) {
  const auto bars = written_bars(*tab.phrase);
  std::vector<Block> blocks;
  for (std::size_t from = 0; from < bars.size();) {
    const double free = room - System::lead(from == 0);
    double sum = natural_width(bars[from]);
    auto end = from + 1;
    while (end < bars.size() && sum + natural_width(bars[end]) <= free)
      sum += natural_width(bars[end++]);
    const bool last = end == bars.size();
    const double stretch = last && sum < free * stretched_from ? 1.25 : free / sum;
    System system(tab, from == 0, metrics);
    blocks.push_back(system.draw(bars.data() + from, bars.data() + end, stretch, last));
    blocks.back().what = "system " + std::to_string(blocks.size());
    from = end;
  }
  return blocks;
}

} // namespace landfall::app::sheet
