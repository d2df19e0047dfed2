#pragma once

#include "render/frame.hpp"

#include <array>
#include <string>
#include <vector>

namespace landfall::render::samples {

// What the sample frames are made of.

inline constexpr std::array<int, 6> tuning{64, 59, 55, 50, 45, 40};

inline ChordText chord(std::string root, int accidental, std::string quality, std::string bass = {},
                       int bass_accidental = 0) {
  return {std::move(root), accidental, std::move(quality), std::move(bass), bass_accidental, false};
}

inline Neck guitar() {
  Neck neck;
  neck.strings = {{0.0, false, 0}, {0.1, false, 0}, {0.25, false, 0},
                  {0.5, true, 0},  {0.75, true, 0}, {1.0, true, 0}};
  neck.inlays = {3, 5, 7, 9, 12, 15, 17, 19, 21, 24};
  neck.double_inlays = {12, 24};
  return neck;
}

inline constexpr std::array<const char*, 12> degrees{"1",  "♭2", "2",  "♭3", "3",  "4",
                                                     "♭5", "5",  "♭6", "6",  "♭7", "7"};

inline bool within(const std::vector<int>& classes, int pitch_class) {
  for (int c : classes)
    if (c == pitch_class)
      return true;
  return false;
}

/// What a place or key shows when the chord on `root` with these intervals sounds, and the one on
/// `next` comes.
struct Lights {
  int root;
  std::vector<int> chord;
  std::vector<int> set; ///< Above the root.
  int next;
  std::vector<int> next_chord;
  double coming;

  Mark mark(int midi) const {
    const int here = (midi - root + 144) % 12, there = (midi - next + 144) % 12;
    Mark mark;
    if (within(chord, here)) {
      mark.role = within(set, here) ? Role::landing : Role::chord;
      mark.label = degrees[static_cast<std::size_t>(here)];
    } else if (within(set, here)) {
      mark.role = Role::set;
    }
    if (coming > 0 && within(next_chord, there)) {
      mark.coming = coming;
      mark.common = within(chord, here);
    }
    return mark;
  }
};

inline bool shows(const Mark& mark) {
  return mark.role != Role::none || mark.coming.has_value();
}

inline void light(Neck& neck, const Lights& lights, int from, int to) {
  for (int string = 1; string <= 6; ++string)
    for (int fret = from; fret <= to; ++fret) {
      Mark mark = lights.mark(tuning[static_cast<std::size_t>(string - 1)] + fret);
      mark.reach = fret < neck.hand_low || fret > neck.hand_high;
      if (shows(mark))
        neck.places.push_back({string, fret, mark});
    }
}

inline const std::vector<int> dominant{0, 4, 7, 10};
inline const std::vector<int> triad{0, 4, 7};
inline const std::vector<int> composite{0, 2, 3, 4, 7, 9, 10};
inline const std::vector<int> major_pentatonic{0, 2, 4, 7, 9};

} // namespace landfall::render::samples
