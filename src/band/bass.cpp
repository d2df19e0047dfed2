#include "band/parts.hpp"
#include "band/strikes.hpp"
#include "band/walk.hpp"
#include "time/random.hpp"

#include <algorithm>
#include <cstdlib>

namespace landfall::band {
namespace {

using theory::MidiNote;

constexpr MidiNote home_root{36};
constexpr MidiNote highest_root{46};

/// A note of the line before its pitch is known.
struct Slot {
  Ticks at;
  Ticks end;
  const Segment* segment;
  char letter;
  char touch;
  const BarPlan* bar;
  std::optional<MidiNote> pitch;
};

int bass_tone(const theory::Chord& chord) {
  return theory::pitch_class(chord.bass ? *chord.bass : chord.root);
}

/// Whether something other than the root is asked for in the bass.
bool slashed(const theory::Chord& chord) {
  return chord.bass && theory::pitch_class(*chord.bass) != theory::pitch_class(chord.root);
}

/// Half steps above the root of what a digit asks for, as the chord has it.
int digit_steps(const theory::Chord& chord, char digit) {
  const auto own = [&](int number, int otherwise) {
    const auto degree = theory::degree_numbered(chord, number);
    return degree ? theory::half_steps(*degree) : otherwise;
  };
  const bool minor = theory::is_minor(chord);
  switch (digit) {
  case '3':
    return own(3, own(4, own(2, 7)));
  case '4':
    return own(4, 5);
  case '5':
    return own(5, 7);
  case '6':
    return own(6, minor ? 10 : 9);
  case '7':
    return own(7, own(6, minor ? 10 : 9));
  default:
    return 12;
  }
}

/// The same over a slash bass: chord tones above it, the root for the fifth.
int slash_steps(const theory::Chord& chord, char digit) {
  if (digit == '8' || digit == '4')
    return 12;
  const int root = theory::pitch_class(chord.root);
  const auto fifth = theory::degree_numbered(chord, 5);
  const int wanted =
      digit == '5' || digit == '6' || !fifth ? root : root + theory::pitch_class(*fifth);
  const int steps = ((wanted - bass_tone(chord)) % 12 + 12) % 12;
  return steps == 0 ? 12 : steps;
}

class Bassist {
public:
  Bassist(const Chorus& chorus, const Harmony& harmony) : chorus_(chorus), harmony_(harmony) {}

  std::vector<Event> play() {
    lay_slots();
    set_roots();
    for (std::size_t i = 0; i < slots_.size(); ++i)
      if (!slots_[i].pitch)
        choose(i);
    return events();
  }

private:
  void lay_slots() {
    for (const auto& strike : strikes(chorus_, Part::bass)) {
      const auto& segment = harmony_.at(strike.aim);
      const Ticks end = std::min(strike.end, segment.to);
      if (segment.chord != nullptr && end > strike.at)
        slots_.push_back({strike.at,
                          end,
                          &segment,
                          strike.letter == 'p' ? '1' : strike.letter,
                          strike.touch,
                          strike.bar,
                          {}});
    }
  }

  /// Each chord's first note is its root, or the slash bass, within a beat of the change.
  void set_roots() {
    std::vector<Slot> missing;
    std::size_t i = 0;
    for (const auto& segment : harmony_.segments()) {
      while (i < slots_.size() && (slots_[i].segment->from < segment.from ||
                                   (slots_[i].segment == &segment && slots_[i].letter == 'x')))
        ++i;
      if (segment.chord == nullptr)
        continue;
      if (i < slots_.size() && slots_[i].segment == &segment &&
          slots_[i].at <= segment.from + near(segment.from)) {
        slots_[i].letter = '1';
        continue;
      }
      const Ticks end = std::min(segment.to, segment.from + quarter);
      const Ticks next = i < slots_.size() ? slots_[i].at : end;
      missing.push_back({segment.from,
                         std::max(std::min(end, next), segment.from + Ticks{1}),
                         &segment,
                         '1',
                         'x',
                         &bar_holding(segment.from),
                         {}});
    }
    slots_.insert(slots_.end(), missing.begin(), missing.end());
    std::stable_sort(slots_.begin(), slots_.end(),
                     [](const Slot& a, const Slot& b) { return a.at < b.at; });
  }

  const BarPlan& bar_holding(Ticks tick) const {
    const auto after =
        std::upper_bound(chorus_.bars.begin(), chorus_.bars.end(), tick,
                         [](Ticks wanted, const BarPlan& bar) { return wanted < bar.bar->start; });
    return *(after - 1);
  }

  Ticks near(Ticks tick) const { return bar_holding(tick).pulses.front().length; }

  void choose(std::size_t i) {
    auto& slot = slots_[i];
    switch (slot.letter) {
    case 'w':
    case 'a':
      walk_from(i);
      return;
    case 'r':
    case 'x':
      slot.pitch = last();
      return;
    case '1':
      slot.pitch = root_near(bass_tone(*slot.segment->chord), last_root_, highest_root_at(i));
      root_ = last_root_ = *slot.pitch;
      break;
    default:
      slot.pitch = interval(slot);
    }
    sounded(i);
  }

  MidiNote last() const { return last_.value_or(root_); }

  /// The nearest of the octaves in which roots lie, drawn to the middle of their register.
  static MidiNote root_near(int tone, MidiNote before, MidiNote highest = highest_root) {
    MidiNote best{};
    int least = 1000;
    for (int pitch = lowest_bass.number; pitch <= highest.number; ++pitch)
      if (pitch % 12 == tone) {
        const int cost = 2 * std::abs(pitch - before.number) + std::abs(pitch - home_root.number);
        if (cost < least)
          least = cost, best = {pitch};
      }
    return best;
  }

  /// Lower where the line goes on to the octave.
  MidiNote highest_root_at(std::size_t i) const {
    for (auto next = i + 1; next < slots_.size() && slots_[next].segment == slots_[i].segment &&
                            slots_[next].at - slots_[i].at < quarter * 4;
         ++next)
      if (slots_[next].letter == '8')
        return highest_bass + (-12);
    return highest_root;
  }

  MidiNote interval(const Slot& slot) const {
    const auto& chord = *slot.segment->chord;
    const MidiNote root = root_of(slot);
    if (slot.letter == 'v') {
      const int up = slashed(chord) ? slash_steps(chord, '5') : digit_steps(chord, '5');
      return root.number + up - 12 >= lowest_bass.number ? root + (up - 12) : root + up % 12;
    }
    const int up =
        slashed(chord) ? slash_steps(chord, slot.letter) : digit_steps(chord, slot.letter);
    return root + up > highest_bass ? root + (up - 12) : root + up;
  }

  /// The chord's root where it was last played; a chord not yet rooted takes the nearest.
  MidiNote root_of(const Slot& slot) const {
    const int tone = bass_tone(*slot.segment->chord);
    return theory::pitch_class(root_) == tone ? root_ : root_near(tone, root_);
  }

  /// Fills the run of walking notes that starts at `i` with a way to what follows.
  void walk_from(std::size_t i) {
    std::size_t end = i;
    while (end < slots_.size() && (slots_[end].letter == 'w' || slots_[end].letter == 'a'))
      ++end;
    const auto targets = targets_at(end, *slots_[end - 1].segment);
    const auto& segment = *slots_[i].segment;
    const Walk walk{last(), static_cast<int>(end - i), targets,
                    standings(*segment.chord, segment.key), draw_at(slots_[i].at)};
    const auto way = walked(walk);
    for (std::size_t k = i; k < end; ++k) {
      slots_[k].pitch = way[k - i];
      sounded(k);
    }
    if (end < slots_.size() && slots_[end].letter == '1') {
      slots_[end].pitch = way.back();
      root_ = last_root_ = way.back();
      sounded(end);
    }
  }

  std::uint64_t draw_at(Ticks tick) const {
    return drawn({chorus_.request.seed, 3, static_cast<std::uint64_t>(chorus_.request.chorus),
                  static_cast<std::uint64_t>(tick.count)});
  }

  /// Where a walk may arrive: any octave of the next root; into the top, the one that the next
  /// chorus starts from.
  std::vector<MidiNote> targets_at(std::size_t end, const Segment& from) const {
    if (end >= slots_.size()) {
      const auto& next = harmony_.at(chorus_.request.form->length);
      const auto* chord = next.chord == nullptr ? from.chord : next.chord;
      return {root_near(bass_tone(*chord), home_root)};
    }
    const auto& slot = slots_[end];
    if (slot.letter != '1')
      return {slot.letter == 'r' || slot.letter == 'x' ? root_of(slot) : interval(slot)};
    std::vector<MidiNote> result;
    const int tone = bass_tone(*slot.segment->chord);
    for (int pitch = lowest_bass.number; pitch <= highest_root_at(end).number; ++pitch)
      if (pitch % 12 == tone)
        result.push_back({pitch});
    return result;
  }

  /// Keeps leaps within an octave by choosing another one.
  void sounded(std::size_t i) {
    auto& pitch = *slots_[i].pitch;
    if (last_ && pitch - *last_ > 12 && pitch.number - 12 >= lowest_bass.number)
      pitch.number -= 12;
    if (last_ && *last_ - pitch > 12 && pitch.number + 12 <= highest_bass.number)
      pitch.number += 12;
    if (slots_[i].letter == '1')
      root_ = last_root_ = pitch;
    last_ = pitch;
  }

  std::vector<Event> events() const {
    std::vector<Event> result;
    result.reserve(slots_.size());
    for (const auto& slot : slots_) {
      const Ticks full = slot.end - slot.at;
      const bool dead = slot.letter == 'x';
      const Ticks length = dead ? std::min(full, sixteenth / 4) : full - full / 16;
      result.push_back({slot.at, std::max(length, Ticks{1}), Part::bass, *slot.pitch,
                        velocity_of(dead ? ',' : slot.touch, slot.bar->feel->mix.bass,
                                    chorus_.request.intensity)});
    }
    return result;
  }

  const Chorus& chorus_;
  const Harmony& harmony_;
  std::vector<Slot> slots_;
  std::optional<MidiNote> last_;
  MidiNote root_ = home_root;
  MidiNote last_root_ = home_root;
};

} // namespace

std::vector<Event> plan_bass(const Chorus& chorus, const Harmony& harmony) {
  return Bassist(chorus, harmony).play();
}

} // namespace landfall::band
