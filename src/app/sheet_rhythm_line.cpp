#include "app/sheet_rhythm_line.hpp"

#include <algorithm>

namespace landfall::app::sheet {
namespace {

constexpr double head = 2.3, stem_top = 10, head_y = 25, beam = 1.8, beam_gap = 3.2;
constexpr double stem_side = 2.1, rest_size = 15;

int flags(const NoteValue& value) {
  return value.part == 8 ? 1 : value.part == 16 ? 2 : value.part == 32 ? 3 : 0;
}

bool sounds(const Beat& beat) {
  return !beat.notes.empty();
}

const char* rest_sign(int part) {
  switch (part) {
  case 1:
    return "𝄻";
  case 2:
    return "𝄼";
  case 4:
    return "𝄽";
  case 8:
    return "𝄾";
  case 16:
    return "𝄿";
  default:
    return "𝅀";
  }
}

class RhythmLine {
public:
  RhythmLine(Pen& pen, const TabBar& bar, Ticks beat_length, const std::vector<double>& x,
             double top)
      : pen_(pen), beats_(bar.beats), beat_(beat_length), x_(x), top_(top) {}

  void draw() {
    for (std::size_t i = 0; i < beats_.size(); ++i) {
      draw_beat(i);
      if (beats_[i].tied && i > 0)
        draw_tie(x_[i - 1], x_[i]);
      else if (beats_[i].tied)
        draw_tie(x_[i] - 12, x_[i]);
    }
    for (std::size_t first = 0; first < beats_.size();) {
      const auto last = beamed_to(first);
      draw_beams(first, last);
      first = last + 1;
    }
    draw_triplets();
  }

private:
  double stem_x(std::size_t i) const { return x_[i] + stem_side; }
  double y(double below_top) const { return top_ + below_top; }

  void draw_beat(std::size_t i) {
    const auto& beat = beats_[i];
    if (!sounds(beat)) {
      pen_.write({rest_size / 1.2}, x_[i], y(head_y + 1.5), rest_sign(beat.value.part),
                 Align::middle);
    } else {
      const bool open = beat.value.part <= 2;
      pen_.add(Disc{x_[i], y(head_y), head, open ? 1.0 : 0.0, open ? 0.9 : 0.0, false});
      if (beat.value.part >= 2)
        pen_.line(stem_x(i), y(head_y), stem_x(i), y(stem_top), 0.8);
    }
    for (int dot = 0; dot < beat.value.dots; ++dot)
      pen_.add(Disc{x_[i] + 5.6 + 3 * dot, y(head_y - 1), 0.9, 0, 0, false});
  }

  void draw_tie(double from, double to) {
    const double low = y(head_y + 4);
    pen_.add(Curve{{from, low, from + 3, low + 3.5, to - 3, low + 3.5, to, low}, 0.8});
  }

  /// The last of the beats that share a beam with `first`: notes shorter than a quarter within one
  /// beat, rests left out.
  std::size_t beamed_to(std::size_t first) const {
    const auto joins = [&](std::size_t i) {
      return sounds(beats_[i]) && flags(beats_[i].value) > 0;
    };
    auto last = first;
    while (joins(first) && last + 1 < beats_.size() && joins(last + 1) &&
           floor_div(beats_[last + 1].at, beat_) == floor_div(beats_[first].at, beat_))
      ++last;
    return last;
  }

  void draw_beams(std::size_t first, std::size_t last) {
    if (!sounds(beats_[first]))
      return;
    if (first == last)
      return draw_flags(first);
    for (int level = 1; level <= 3; ++level)
      for (auto i = first; i <= last; ++i)
        if (flags(beats_[i].value) >= level)
          draw_beam(i, i < last && flags(beats_[i + 1].value) >= level,
                    i > first && flags(beats_[i - 1].value) >= level, i < last, level);
  }

  /// To the next stem, or a short one where no neighbour has this beam.
  void draw_beam(std::size_t i, bool to_next, bool from_before, bool has_next, int level) {
    const double at = y(stem_top + 0.9 + (level - 1) * beam_gap);
    if (to_next)
      pen_.line(stem_x(i) - 0.4, at, stem_x(i + 1) + 0.4, at, beam);
    else if (!from_before)
      pen_.line(stem_x(i), at, stem_x(i) + (has_next ? 5 : -5), at, beam);
  }

  void draw_flags(std::size_t i) {
    for (int flag = 0; flag < flags(beats_[i].value); ++flag) {
      const double at = y(stem_top + flag * beam_gap), left = stem_x(i);
      pen_.add(Curve{{left, at, left + 1, at + 3, left + 5, at + 4, left + 3.6, at + 8}, 1.1});
    }
  }

  /// A 3 in a bracket over each group of triplets, which is whole at a multiple of its own value.
  void draw_triplets() {
    for (std::size_t first = 0; first < beats_.size(); ++first) {
      if (!beats_[first].value.triplet)
        continue;
      auto last = first;
      Ticks sum = ticks_of(beats_[first].value);
      while (floor_mod(sum, eighth) != Ticks{} && last + 1 < beats_.size() &&
             beats_[last + 1].value.triplet)
        sum += ticks_of(beats_[++last].value);
      draw_bracket(x_[first] - 2, x_[last] + 4);
      first = last;
    }
  }

  void draw_bracket(double left, double right) {
    const double at = y(5), middle = (left + right) / 2;
    pen_.write({7, Face::semibold}, middle, at + 2.5, "3", Align::middle);
    for (const auto& [from, to] : {std::pair(left, middle - 4), std::pair(middle + 4, right)})
      if (to > from)
        pen_.line(from, at, to, at, 0.5);
    pen_.line(left, at, left, at + 2.5, 0.5);
    pen_.line(right, at, right, at + 2.5, 0.5);
  }

  Pen& pen_;
  const std::vector<Beat>& beats_;
  Ticks beat_;
  const std::vector<double>& x_;
  double top_;
};

} // namespace

void draw_rhythm(Pen& pen, const TabBar& bar, Ticks beat_length, const std::vector<double>& x,
                 double top) {
  RhythmLine(pen, bar, beat_length, x, top).draw();
}

} // namespace landfall::app::sheet
