#include "trade/call_answer.hpp"

#include "trade/path.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <cstdlib>

namespace landfall::trade {
namespace {

using theory::Chord;

/// The octaves that are tried for a note, in this order.
constexpr std::array octaves{0, -12, 12, -24, 24, -36, 36, -48, 48, -60, 60};

bool leads(const PhraseNote& note) {
  return note.role == PhraseRole::approach || note.role == PhraseRole::enclosure;
}

int root_of(const std::optional<Chord>& chord, theory::Key key) {
  return theory::pitch_class(chord ? chord->root : key.tonic);
}

/// The nearest pitch of a class to `near`, in (near - 6, near + 6].
int nearest(int pitch_class, double near) {
  return pitch_class + 12 * static_cast<int>(std::floor((near - pitch_class) / 12.0 + 0.5));
}

class Mover {
public:
  Mover(const Phrase& call, const Phrase& bars, const neck::Setting& setting)
      : call_(call), setting_(setting), result_(bars) {
    for (const auto& chord : bars.chords)
      grounds_.push_back(ground_under(setting, chord.chord));
  }

  Phrase move() {
    result_.key = setting_.key;
    result_.notes = call_.notes;
    for (auto& note : result_.notes)
      note.chord = chord_index(result_, std::max(note.start, chord_start(note)));
    for (std::size_t i = 0; i < result_.notes.size(); ++i)
      if (!leads(call_.notes[i]))
        set_pitch(i, moved(i));
    for (std::size_t i = result_.notes.size(); i-- > 0;)
      if (leads(call_.notes[i]))
        set_pitch(i, led(i));
    shift_into_position();
    for (auto& note : result_.notes)
      find_place(note);
    return std::move(result_);
  }

private:
  Ticks chord_start(const PhraseNote& note) const {
    return call_.chords[static_cast<std::size_t>(note.chord)].at;
  }
  const std::optional<Chord>& old_chord(std::size_t i) const {
    return call_.chords[static_cast<std::size_t>(call_.notes[i].chord)].chord;
  }
  const std::optional<Chord>& new_chord(std::size_t i) const {
    return result_.chords[static_cast<std::size_t>(result_.notes[i].chord)].chord;
  }
  const Ground& ground(const PhraseNote& note) const {
    return grounds_[static_cast<std::size_t>(note.chord)];
  }
  void set_pitch(std::size_t i, int pitch) { result_.notes[i].midi = {pitch}; }

  bool same_chord(std::size_t i) const {
    const auto &a = old_chord(i), &b = new_chord(i);
    if (!a || !b)
      return !a && !b && call_.key == setting_.key;
    return theory::same_tones(*a, *b);
  }

  /// The sound of the same degree over the new chord.
  int new_pitch_class(std::size_t i) const {
    const auto& note = call_.notes[i];
    const int root = root_of(new_chord(i), setting_.key);
    const int plain = (root + theory::pitch_class(note.degree)) % 12;
    const bool tone = old_chord(i) && theory::degree_in(*old_chord(i), pitch_class(note.midi));
    if (tone && new_chord(i))
      if (const auto same = numbered(*new_chord(i), note.degree.number))
        return (root + theory::pitch_class(*same)) % 12;
    return nearest_in_set(result_.notes[i], plain);
  }

  /// Of a chord, the tone with this number; of fourths and sixths, what stands in their place.
  static std::optional<theory::Degree> numbered(const Chord& chord, int number) {
    for (const int candidate : {number, number + 7})
      if (const auto degree = theory::degree_numbered(chord, candidate))
        return degree;
    const int other = number == 3 ? 4 : number == 4 ? 3 : number == 7 ? 6 : number == 6 ? 7 : 1;
    return theory::degree_numbered(chord, other);
  }

  int nearest_in_set(const PhraseNote& note, int wanted) const {
    int best = wanted, least = 12;
    for (const auto& spot : ground(note).notes) {
      if (!spot.in_set)
        continue;
      const int up = (pitch_class(spot.midi) - wanted + 12) % 12;
      const int far = std::min(up, 12 - up);
      if (far < least) {
        least = far;
        best = pitch_class(spot.midi);
      }
    }
    return best;
  }

  /// How far the new chord's root lies from the old one's, the short way.
  int root_shift(std::size_t i) const {
    const int up =
        (root_of(new_chord(i), setting_.key) - root_of(old_chord(i), call_.key) + 12) % 12;
    return up > 6 ? up - 12 : up;
  }

  int moved(std::size_t i) {
    const int old = call_.notes[i].midi.number;
    if (same_chord(i))
      return remember(i, old);
    // as far from the note before as it was, so that the line keeps its way
    const double near =
        last_ ? result_.notes[*last_].midi.number + (old - call_.notes[*last_].midi.number)
              : old + root_shift(i);
    return remember(i, nearest(new_pitch_class(i), near));
  }

  int remember(std::size_t i, int pitch) {
    last_ = i;
    return pitch;
  }

  int led(std::size_t i) const {
    if (i + 1 >= call_.notes.size())
      return call_.notes[i].midi.number;
    return result_.notes[i + 1].midi.number +
           (call_.notes[i].midi.number - call_.notes[i + 1].midi.number);
  }

  const Spot* spot_at(const PhraseNote& note, int pitch) const {
    for (const auto* spots : {&ground(note).notes, &ground(note).all})
      for (const auto& spot : *spots)
        if (spot.midi.number == pitch)
          return &spot;
    return nullptr;
  }

  /// The octave in which most of it lies under the hand; its own if that is as good.
  void shift_into_position() {
    int best = 0;
    std::ptrdiff_t most = -1;
    for (const int shift : octaves) {
      const auto inside =
          std::count_if(result_.notes.begin(), result_.notes.end(), [&](const PhraseNote& note) {
            return spot_at(note, note.midi.number + shift) != nullptr;
          });
      if (inside > most) {
        most = inside;
        best = shift;
      }
    }
    for (auto& note : result_.notes)
      note.midi.number += best;
  }

  /// For a place that lacks a sound in every octave.
  const Spot* nearest_spot(const PhraseNote& note) const {
    const auto& notes = ground(note).notes;
    const auto far = [&](const Spot& spot) { return std::abs(spot.midi - note.midi); };
    const auto at = std::min_element(notes.begin(), notes.end(),
                                     [&](const Spot& a, const Spot& b) { return far(a) < far(b); });
    return at == notes.end() ? nullptr : &*at;
  }

  void find_place(PhraseNote& note) const {
    const Spot* spot = nullptr;
    for (const int shift : octaves)
      if (spot = spot_at(note, note.midi.number + shift); spot != nullptr)
        break;
    if (spot == nullptr)
      spot = nearest_spot(note);
    note.string = note.fret = std::nullopt;
    if (spot != nullptr) {
      note.midi = spot->midi;
      note.string = spot->string;
      note.fret = spot->fret;
    }
    note.midi.number = std::clamp(note.midi.number, 0, 127);
    note.degree = degree_over(result_.chords[static_cast<std::size_t>(note.chord)].chord,
                              result_.key, note.midi);
  }

  const Phrase& call_;
  const neck::Setting& setting_;
  Phrase result_;
  std::vector<Ground> grounds_;
  std::optional<std::size_t> last_; ///< The note moved last that leads nowhere.
};

} // namespace

Phrase answer_for(const Phrase& call, const Phrase& bars, const neck::Setting& setting) {
  assert(!bars.chords.empty() && setting.instrument != nullptr);
  return Mover(call, bars, setting).move();
}

} // namespace landfall::trade
