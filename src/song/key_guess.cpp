#include "song/key_guess.hpp"

#include <algorithm>
#include <array>
#include <vector>

namespace landfall::song {

namespace {

using theory::Chord;
using theory::Key;

constexpr std::size_t most_weighed = 64;

bool in_scale(Key key, int pitch_class, bool raised_seventh) {
  const int above = (pitch_class - theory::pitch_class(key.tonic) + 12) % 12;
  if (raised_seventh && key.minor && above == 11)
    return true;
  return std::ranges::any_of(theory::degrees(key), [&](theory::Degree degree) {
    return theory::pitch_class(degree) == above;
  });
}

/// The share of the chord's tones that the key holds; the leading tone counts in a minor key's
/// dominant, the minor seventh of a blues in a major key's one and four.
double fit(Key key, const Chord& chord) {
  const int above = (pitch_class(chord.root) - pitch_class(key.tonic) + 12) % 12;
  const bool blue = !key.minor && (above == 0 || above == 5);
  const auto tones = theory::notes(chord);
  const auto inside = std::ranges::count_if(tones, [&](theory::Note note) {
    const int in_chord = (pitch_class(note) - pitch_class(chord.root) + 12) % 12;
    return (blue && in_chord == 10) || in_scale(key, pitch_class(note), above == 7 || above == 11);
  });
  return static_cast<double>(inside) / static_cast<double>(tones.size());
}

bool is_tonic(Key key, const Chord& chord) {
  return pitch_class(chord.root) == pitch_class(key.tonic) && is_minor(chord) == key.minor;
}

/// Whether a dominant, or a major triad, leads home to the tonic.
bool cadence(Key key, const Chord& before, const Chord& chord) {
  const int fall = (pitch_class(before.root) - pitch_class(chord.root) + 12) % 12;
  return fall == 7 && !is_minor(before) && is_tonic(key, chord) &&
         theory::quality(chord) != theory::Quality::dominant;
}

/// The keys of the chord's root and of the root a fifth below, where it is the five.
std::array<Key, 4> candidates(const Chord& chord) {
  const Key major = theory::usual_key({chord.root, false});
  const Key minor = theory::usual_key({chord.root, true});
  return {major, minor, theory::transposed(major, 5), theory::transposed(minor, 5)};
}

/// Whether all chords are at home where the first one is the tonic. Then a triad on it is no
/// dominant: in A D it goes to the four.
bool first_is_home(std::span<const Chord> chords) {
  const Key key{chords.front().root, is_minor(chords.front())};
  return std::ranges::all_of(chords, [&](const Chord& chord) { return fit(key, chord) > 0.999; });
}

double score(Key key, std::span<const Chord> chords, bool first_is_home) {
  double sum = 0;
  double cadences = 0;
  for (std::size_t i = 0; i < chords.size(); ++i) {
    sum += fit(key, chords[i]);
    if (i > 0 && cadence(key, chords[i - 1], chords[i]) &&
        !(first_is_home && chords[i - 1].degrees.size() == 3 &&
          same_tones(chords[i - 1], chords.front())))
      cadences = std::min(cadences + 0.2, 0.3);
  }
  const double ends =
      (is_tonic(key, chords.front()) ? 0.2 : 0) + (is_tonic(key, chords.back()) ? 0.15 : 0);
  return sum / static_cast<double>(chords.size()) + ends + cadences;
}

} // namespace

Key likely_key(std::span<const Chord> chords) {
  std::vector<Chord> weighed(chords.begin(), chords.end());
  if (weighed.size() > most_weighed) {
    weighed[most_weighed - 1] = chords.back();
    weighed.resize(most_weighed);
  }
  if (weighed.empty())
    return {};
  const bool home = first_is_home(weighed);
  Key best;
  double best_score = -1;
  for (const Chord& chord : weighed)
    for (const Key key : candidates(chord))
      if (const double value = score(key, weighed, home); value > best_score + 1e-9) {
        best = key;
        best_score = value;
      }
  return best;
}

namespace {

/// C minor if the first chord on C is minor, else C.
Key c_of_mode(std::span<const Chord> chords) {
  const auto first = std::ranges::find(chords, theory::Note{}, &Chord::root);
  return {{}, first != chords.end() && is_minor(*first)};
}

/// The bars in the order of the text.
std::vector<ChartBar*> bars_of(Song& song) {
  std::vector<ChartBar*> bars;
  const auto add = [&](std::vector<ChartBar>& more) {
    for (ChartBar& bar : more)
      bars.push_back(&bar);
  };
  add(song.pickup);
  for (Section& section : song.sections)
    for (Passage& passage : section.passages) {
      add(passage.bars);
      for (Ending& ending : passage.endings)
        add(ending.bars);
    }
  return bars;
}

std::vector<Chord> chords_of(std::span<ChartBar* const> bars) {
  std::vector<Chord> chords;
  for (const ChartBar* bar : bars)
    for (const WrittenChord& written : bar->chords)
      if (written.chord)
        chords.push_back(*written.chord);
  return chords;
}

} // namespace

void settle_key(Song& song, std::size_t bars_without_key, KeySource source) {
  std::vector<ChartBar*> bars = bars_of(song);
  bars.resize(std::min(bars.size(), bars_without_key));
  if (source != KeySource::song) {
    const std::vector<Chord> chords = chords_of(bars);
    song.key = source == KeySource::chords ? likely_key(chords) : c_of_mode(chords);
  }
  for (ChartBar* bar : bars)
    bar->context.key = song.key;
}

} // namespace landfall::song
