#include "band/parts.hpp"
#include "band/strikes.hpp"
#include "band/voicing.hpp"
#include "time/random.hpp"

#include <algorithm>

namespace landfall::band {
namespace {

/// A chord struck, over one segment of the harmony.
struct Chop {
  Ticks at;
  Ticks end;
  const Segment* segment;
  char letter;
  char touch;
  const BarPlan* bar;
};

/// Cuts strikes at the changes: a chord that is held over one is struck anew there, unless the
/// pattern itself strikes soon after it.
std::vector<Chop> chopped(const std::vector<Strike>& strikes, const Harmony& harmony) {
  std::vector<Chop> result;
  result.reserve(strikes.size() * 2);
  for (std::size_t i = 0; i < strikes.size(); ++i) {
    const auto& strike = strikes[i];
    Ticks at = strike.at;
    char touch = strike.touch;
    const auto* segment = &harmony.at(strike.aim);
    for (;;) {
      const Ticks end = std::min(strike.end, segment->to);
      if (segment->chord != nullptr && end > at)
        result.push_back({at, end, segment, strike.letter, touch, strike.bar});
      if (end == strike.end)
        break;
      segment = harmony.after(*segment);
      at = end;
      touch = touch == 'X' ? 'x' : 'o';
      if (segment == nullptr || strike.end - at < eighth / 2)
        break;
    }
  }
  return result;
}

class Comper {
public:
  Comper(const Chorus& chorus, const Harmony& harmony) : chorus_(chorus), harmony_(harmony) {}

  std::vector<Event> play() {
    auto chops = chopped(strikes(chorus_, Part::comping), harmony_);
    add_unheard(chops);
    events_.reserve(chops.size() * 4);
    complete(chops);
    for (std::size_t i = 0; i < chops.size(); ++i) {
      if (single(chops[i].letter))
        chops[i].end = ringing_end(chops, i);
      sound(chops[i]);
    }
    return std::move(events_);
  }

private:
  /// A chord that the pattern passes over is struck once, softly.
  void add_unheard(std::vector<Chop>& chops) const {
    std::vector<Chop> missing;
    std::size_t i = 0;
    for (const auto& segment : harmony_.segments()) {
      while (i < chops.size() && chops[i].segment->from < segment.from)
        ++i;
      const bool heard = i < chops.size() && chops[i].segment == &segment;
      if (segment.chord != nullptr && !heard)
        missing.push_back({segment.from, until(segment, chops, i), &segment, 'x', 'o',
                           bar_holding(segment.from)});
    }
    chops.insert(chops.end(), missing.begin(), missing.end());
    std::stable_sort(chops.begin(), chops.end(),
                     [](const Chop& a, const Chop& b) { return a.at < b.at; });
  }

  static Ticks until(const Segment& segment, const std::vector<Chop>& chops, std::size_t next) {
    const Ticks end = std::min(segment.to, segment.from + quarter);
    return next < chops.size() ? std::max(segment.from + Ticks{1}, std::min(end, chops[next].at))
                               : end;
  }

  static bool single(char letter) { return letter >= '1' && letter <= '5'; }

  /// A single voice rings until it or a whole chord is struck, to the end of its chord and bar.
  static Ticks ringing_end(const std::vector<Chop>& chops, std::size_t i) {
    const auto& chop = chops[i];
    const Ticks bar_end = chop.bar->bar->start + song::bar_length(chop.bar->bar->meter);
    const Ticks end = std::max(chop.end, std::min(chop.segment->to, bar_end));
    for (auto next = i + 1; next < chops.size() && chops[next].at < end; ++next)
      if (!single(chops[next].letter) || chops[next].letter == chop.letter)
        return chops[next].at;
    return end;
  }

  const BarPlan* bar_holding(Ticks tick) const {
    const auto after =
        std::upper_bound(chorus_.bars.begin(), chorus_.bars.end(), tick,
                         [](Ticks wanted, const BarPlan& bar) { return wanted < bar.bar->start; });
    return &*(after - 1);
  }

  /// A new voicing for each chord, and in a long one every other bar.
  const Voicing& voicing_for(const Chop& chop) {
    const auto stretch = chop.bar->bar->number / 2;
    if (chop.segment == segment_ &&
        (chop.segment->to - chop.segment->from < quarter * 12 || stretch == stretch_))
      return voicing_;
    const auto& feel = *chop.bar->feel;
    const int lift =
        static_cast<int>(drawn_below(5, {chorus_.request.seed, 5,
                                         static_cast<std::uint64_t>(chorus_.request.chorus),
                                         static_cast<std::uint64_t>(chop.bar->phrase)})) -
        2;
    const VoicingWish wish{
        feel.colour, feel.hands, feel.voices, {66 + lift + (chorus_.level == Level::full ? 2 : 0)}};
    voicing_ = voiced(*chop.segment->chord, chop.segment->key, wish, voicing_);
    segment_ = chop.segment;
    stretch_ = stretch;
    return voicing_;
  }

  /// Which of a voicing's voices a letter strikes: from `first` to before `last`.
  struct Span {
    std::size_t first;
    std::size_t last;
  };
  static Span span_of(char letter, std::size_t voices) {
    if (letter == 'l')
      return {0, (voices + 1) / 2};
    if (letter == 'h')
      return {voices / 2, voices};
    if (single(letter)) {
      const auto voice = std::min(static_cast<std::size_t>(letter - '1'), voices - 1);
      return {voice, voice + 1};
    }
    return {0, voices};
  }

  /// Where a chord's strikes leave a voice out, the first one takes all.
  void complete(std::vector<Chop>& chops) const {
    for (std::size_t i = 0; i < chops.size();) {
      const auto first = i;
      const auto voices = static_cast<std::size_t>(chops[i].bar->feel->voices);
      std::vector<bool> heard(voices, false);
      for (; i < chops.size() && chops[i].segment == chops[first].segment; ++i) {
        const auto span = span_of(chops[i].letter, voices);
        std::fill(heard.begin() + static_cast<std::ptrdiff_t>(span.first),
                  heard.begin() + static_cast<std::ptrdiff_t>(span.last), true);
      }
      if (std::find(heard.begin(), heard.end(), false) != heard.end())
        chops[first].letter = 'x';
    }
  }

  static char touch_of(const Chop& chop) {
    if (chop.letter == 'X' || chop.letter == 'P')
      return 'X';
    return chop.letter == 'o' || chop.letter == ',' ? chop.letter : chop.touch;
  }

  void sound(const Chop& chop) {
    const auto& voicing = voicing_for(chop);
    const auto span = span_of(chop.letter, voicing.size());
    const int velocity =
        velocity_of(touch_of(chop), chop.bar->feel->mix.comping, chorus_.request.intensity);
    const Ticks full = chop.end - chop.at;
    const Ticks length = chop.letter == ',' ? std::min(full, sixteenth / 2) : full;
    for (auto i = span.first; i < span.last; ++i) {
      const Ticks late = strum(chop, span, i, full);
      events_.push_back(
          {chop.at + late, std::max(length - late, Ticks{1}), Part::comping, voicing[i], velocity});
    }
  }

  /// A humanised guitar's strings sound one after the other: downwards on the beat, else upwards.
  Ticks strum(const Chop& chop, Span span, std::size_t voice, Ticks room) const {
    if (!chorus_.request.humanised || chop.bar->feel->hands != Hands::guitar)
      return {0};
    constexpr std::int64_t microseconds_apart = 4000;
    const auto in_quarter =
        std::max<std::int64_t>(chorus_.request.form->tempo.micros_per_quarter, 1);
    const bool down = floor_mod(chop.at - chop.bar->bar->start, eighth).count == 0;
    const auto order = static_cast<std::int64_t>(down ? voice - span.first : span.last - 1 - voice);
    return {std::min(order * microseconds_apart * ticks_per_quarter / in_quarter, room.count / 4)};
  }

  const Chorus& chorus_;
  const Harmony& harmony_;
  std::vector<Event> events_;
  Voicing voicing_;
  const Segment* segment_ = nullptr;
  int stretch_ = 0;
};

} // namespace

std::vector<Event> plan_comping(const Chorus& chorus, const Harmony& harmony) {
  return Comper(chorus, harmony).play();
}

} // namespace landfall::band
