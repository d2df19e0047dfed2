#include "band/voicing.hpp"

#include "band/guitar.hpp"

#include <algorithm>
#include <cstdlib>
#include <limits>

namespace landfall::band {
namespace {

using theory::Chord;
using theory::Degree;

void add(std::vector<int>& tones, int tone) {
  if (std::find(tones.begin(), tones.end(), tone) == tones.end())
    tones.push_back(tone);
}

int sounding(const Chord& chord, Degree degree) {
  return (theory::pitch_class(chord.root) + theory::pitch_class(degree)) % 12;
}

bool in_key(theory::Key key, int tone) {
  const auto& all = theory::degrees(key);
  return std::any_of(all.begin(), all.end(), [&](Degree degree) {
    return (theory::pitch_class(key.tonic) + theory::pitch_class(degree)) % 12 == tone;
  });
}

bool has_folded(const Chord& chord, int number) {
  return std::any_of(chord.degrees.begin(), chord.degrees.end(),
                     [&](Degree degree) { return theory::folded(degree).number == number; });
}

/// Whether the fifth, where there is one, is perfect: altered chords take nothing more.
bool stable(const Chord& chord) {
  const auto fifth = theory::degree_numbered(chord, 5);
  return fifth && fifth->alteration == 0;
}

std::vector<Degree> added_by(Colour colour, const Chord& chord) {
  if (colour == Colour::plain || !stable(chord) || chord.degrees.size() < 3)
    return {};
  std::vector<Degree> added;
  const auto seventh = theory::degree_numbered(chord, 7);
  const bool full = seventh.has_value() || theory::degree_numbered(chord, 6).has_value();
  if ((full || colour == Colour::rich) && !has_folded(chord, 2) && !has_folded(chord, 4))
    added.push_back({9, 0});
  const bool dominant = theory::quality(chord) == theory::Quality::dominant;
  if (colour == Colour::rich && dominant && !has_folded(chord, 6) && !has_folded(chord, 4))
    added.push_back({13, 0});
  return added;
}

bool plain_fifth(Degree degree) {
  return degree.number == 5 && degree.alteration == 0;
}

/// Every tone on its own place above `lowest`, the rotation's first one at the bottom.
Voicing close(const std::vector<int>& rising, std::size_t rotation, int lowest) {
  Voicing result;
  int at = lowest;
  for (std::size_t i = 0; i < rising.size(); ++i) {
    const int tone = rising[(rotation + i) % rising.size()];
    at += ((tone - at) % 12 + 12) % 12;
    result.push_back({at});
    ++at;
  }
  return result;
}

bool in_register(const Voicing& voicing) {
  return voicing.front() >= lowest_comping && voicing.back() <= highest_comping;
}

/// A voice of a close voicing, counted from the top, an octave down: the second or the third.
Voicing dropped(Voicing voicing, std::size_t from_top) {
  if (voicing.size() > from_top)
    voicing[voicing.size() - from_top].number -= 12;
  std::sort(voicing.begin(), voicing.end());
  return voicing;
}

/// What the ear minds within a voicing.
int harshness(const Voicing& voicing, Hands hands) {
  int cost = 0;
  for (std::size_t i = 0; i + 1 < voicing.size(); ++i) {
    const int gap = voicing[i + 1] - voicing[i];
    if (gap == 1)
      cost += i + 2 == voicing.size() ? 9 : 6;
    if (gap < 3 && voicing[i].number < 53)
      cost += 5;
    if (gap > 9)
      cost += gap - 9;
    if (i + 2 < voicing.size() && voicing[i + 2] - voicing[i] < 5)
      cost += 5;
    for (std::size_t j = i + 1; j < voicing.size(); ++j)
      if (voicing[j] - voicing[i] == 13)
        cost += 6;
  }
  if (hands == Hands::guitar)
    cost += playable_on_guitar(voicing) ? 0 : 100;
  return cost;
}

/// Roots and fifths bear doubling.
bool doubles_well(const Chord& chord, theory::MidiNote note) {
  const auto degree = theory::degree_in(chord, theory::pitch_class(note));
  return degree && (degree->number == 1 || plain_fifth(*degree));
}

class Chooser {
public:
  Chooser(const VoicingWish& wish, const Voicing& before) : wish_(wish), before_(before) {}

  void consider(Voicing voicing) {
    if (!in_register(voicing))
      return;
    int cost = 3 * harshness(voicing, wish_.hands) + 2 * std::abs(voicing.back() - wish_.top);
    if (!before_.empty())
      cost += 18 * motion(before_, voicing) / static_cast<int>(voicing.size()) +
              2 * std::abs(voicing.back() - before_.back());
    if (cost < least_) {
      least_ = cost;
      best_ = std::move(voicing);
    }
  }

  /// A close voicing, and opened by dropping its second or its third voice.
  void consider_all(const Voicing& voicing) {
    consider(voicing);
    consider(dropped(voicing, 2));
    if (voicing.size() > 3)
      consider(dropped(voicing, 3));
  }

  Voicing best() { return std::move(best_); }

private:
  const VoicingWish& wish_;
  const Voicing& before_;
  int least_ = std::numeric_limits<int>::max();
  Voicing best_;
};

} // namespace

std::vector<int> comping_tones(const Chord& chord, theory::Key key, Colour colour) {
  std::vector<int> tones;
  for (const auto degree : theory::guide_tones(chord))
    add(tones, sounding(chord, degree));
  for (const auto degree : chord.degrees)
    if (degree.number != 1 && degree.number < 8 && !plain_fifth(degree))
      add(tones, sounding(chord, degree));
  for (auto degree = chord.degrees.rbegin(); degree != chord.degrees.rend(); ++degree)
    if (degree->number > 8)
      add(tones, sounding(chord, *degree));
  for (const auto degree : added_by(colour, chord))
    if (in_key(key, sounding(chord, degree)))
      add(tones, sounding(chord, degree));
  for (const auto degree : chord.degrees)
    if (plain_fifth(degree))
      add(tones, sounding(chord, degree));
  add(tones, theory::pitch_class(chord.root));
  return tones;
}

Voicing voiced(const Chord& chord, theory::Key key, const VoicingWish& wish,
               const Voicing& before) {
  auto tones = comping_tones(chord, key, wish.colour);
  const auto most =
      std::max(static_cast<std::size_t>(wish.voices), theory::guide_tones(chord).size());
  if (tones.size() > most)
    tones.resize(most);
  std::sort(tones.begin(), tones.end());
  Chooser chooser(wish, before);
  for (std::size_t rotation = 0; rotation < tones.size(); ++rotation)
    for (const int lowest : {lowest_comping.number, lowest_comping.number + 12}) {
      const auto voicing = close(tones, rotation, lowest);
      chooser.consider_all(voicing);
      if (static_cast<int>(tones.size()) < wish.voices && doubles_well(chord, voicing.front())) {
        auto doubled = voicing;
        doubled.push_back(voicing.front() + 12);
        chooser.consider_all(doubled);
      }
    }
  return chooser.best();
}

int motion(const Voicing& from, const Voicing& to) {
  int sum = 0;
  for (std::size_t i = 0; i < to.size(); ++i) {
    if (from.size() == to.size()) {
      sum += std::abs(to[i] - from[i]);
      continue;
    }
    int nearest = std::numeric_limits<int>::max();
    for (const auto note : from)
      nearest = std::min(nearest, std::abs(to[i] - note));
    sum += nearest;
  }
  return sum;
}

} // namespace landfall::band
