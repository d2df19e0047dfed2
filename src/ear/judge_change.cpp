#include "ear/judge.hpp"
#include "ear/strike.hpp"

#include <algorithm>
#include <cmath>

namespace landfall::ear {
namespace {

constexpr double early_ms = 40.0, least_late_ms = 80.0, most_late_ms = 250.0;
constexpr double settling_ms = 130.0; ///< Until a pitch, a ghost and a chord are known.

struct Window {
  Ticks from;
  Ticks to;

  bool holds(Ticks at) const { return at >= from && at <= to; }
};

/// An eighth either side, a little more before; neighbours meet halfway.
Window window_of(const Ground& ground, std::size_t index, const Settings& settings) {
  const auto at = ground.changes[index].at;
  const auto tempo = ground.tempo.tempo_at(at);
  Window window;
  window.from = at - settings.window - ticks_of_ms(early_ms, tempo);
  window.to = at + std::clamp(settings.window, ticks_of_ms(least_late_ms, tempo),
                              ticks_of_ms(most_late_ms, tempo));
  if (index > 0)
    window.from = std::max(window.from, at - (at - ground.changes[index - 1].at) / 2);
  if (index + 1 < ground.changes.size())
    window.to = std::min(window.to, at + (ground.changes[index + 1].at - at) / 2);
  return window;
}

/// Guide tones first, then root and fifth, then what lies above; lower is better.
int rank(const theory::Chord& chord, theory::Degree degree) {
  for (const auto guide : guide_tones(chord))
    if (guide == degree)
      return 0;
  return degree.number == 1 || degree.number == 5 ? 1 : 2;
}

/// What a strike says: of two notes the better degree, of more the top one.
struct Said {
  Pitch pitch;
  std::optional<theory::Degree> degree; ///< If a chord tone.
};

class ChangeJudge {
public:
  ChangeJudge(const Ground& ground, std::size_t index, std::span<const HeardNote> notes,
              const Settings& settings)
      : ground_(ground), change_(ground.changes[index]), span_(ground.spans[change_.span]),
        chord_(*span_.chord), notes_(notes), strikes_(strikes_of(ground, notes, settings)),
        window_(window_of(ground, index, settings)) {}

  JudgedChange judge() {
    JudgedChange judged;
    judged.at = change_.at;
    judged.chorus = change_.chorus;
    judged.bar = change_.bar;
    judged.beat = change_.beat;
    judged.chord = chord_;
    if (const auto arrival = find_arrival())
      judge(*arrival, judged);
    return judged;
  }

private:
  using Index = std::optional<std::size_t>;

  Ticks distance(std::size_t strike) const {
    const auto apart = strikes_[strike].at - change_.at;
    return apart < Ticks{} ? -apart : apart;
  }

  /// The strike nearest the change among those within `most` of it; of two the later.
  Index nearest(Ticks most) const {
    Index best;
    for (std::size_t i = 0; i < strikes_.size(); ++i)
      if (window_.holds(strikes_[i].at) && distance(i) <= most &&
          (!best || distance(i) <= distance(*best)))
        best = i;
    return best;
  }

  /// The newest strike before the change, if a finger still holds it there.
  Index held() const {
    Index newest;
    for (std::size_t i = 0; i < strikes_.size() && strikes_[i].at < change_.at; ++i)
      newest = i;
    if (!newest)
      return {};
    const auto& pitches = strikes_[*newest].pitches;
    const bool down = std::any_of(pitches.begin(), pitches.end(), [&](const Pitch& pitch) {
      const auto& note = notes_[pitch.note];
      return !note.off || *note.off > change_.at;
    });
    return down ? newest : std::nullopt;
  }

  Index find_arrival() const {
    if (const auto near = nearest(sixteenth))
      return near;
    if (const auto before = held())
      return before;
    return nearest(Ticks{1} * (window_.to - window_.from).count);
  }

  std::optional<theory::Degree> degree_of(const Pitch& pitch) const {
    return pitch.settled ? degree_in(chord_, pitch.midi % 12) : std::nullopt;
  }

  /// With a note's later pitches: a bend that arrives on a chord tone within the window lands.
  Said said_by(const Pitch& pitch) const {
    Said said{pitch, degree_of(pitch)};
    if (said.degree || notes_[pitch.note].bends.empty())
      return said;
    for (const auto& later :
         pitches_of(notes_[pitch.note], pitch.note, ground_.tempo.tempo_at(pitch.at)))
      if (later.at > pitch.at && window_.holds(later.at) && degree_of(later))
        return {later, degree_of(later)};
    return said;
  }

  Said said_by(const Strike& strike) const {
    const auto top =
        std::max_element(strike.pitches.begin(), strike.pitches.end(),
                         [](const Pitch& a, const Pitch& b) { return a.midi < b.midi; });
    if (strike.pitches.size() != 2)
      return said_by(*top);
    const auto first = said_by(strike.pitches[0]), second = said_by(strike.pitches[1]);
    const auto value = [&](const Said& said) {
      return !said.degree ? 9 : counts(said) ? rank(chord_, *said.degree) : 5;
    };
    if (value(first) == value(second))
      return first.pitch.midi > second.pitch.midi ? first : second;
    return value(first) < value(second) ? first : second;
  }

  /// Whether it is a chord tone that is aimed at.
  bool counts(const Said& said) const {
    return said.degree && neck::has(span_.aimed, said.pitch.midi);
  }

  void judge(std::size_t arrival, JudgedChange& judged) const {
    const auto said = said_by(strikes_[arrival]);
    if (counts(said))
      return land(Verdict::landed, said, arrival, judged);
    if (leans(said, arrival))
      return land(Verdict::landed, said_by(strikes_[arrival + 1]), arrival + 1, judged);
    const auto latest = change_.at + span_.beat;
    for (auto i = arrival + 1; i < strikes_.size() && strikes_[i].at <= latest; ++i)
      if (strikes_[i].at > change_.at && counts(said_by(strikes_[i])))
        return land(Verdict::late, said_by(strikes_[i]), i, judged);
    judged.verdict = Verdict::off;
    describe(said, judged);
    judged.held = said.degree ? said.degree : degree_over(said.pitch);
  }

  /// The next strike, still in the window, is a chord tone a half step away or a whole step below.
  bool leans(const Said& said, std::size_t arrival) const {
    if (arrival + 1 >= strikes_.size() || !window_.holds(strikes_[arrival + 1].at))
      return false;
    const auto next = said_by(strikes_[arrival + 1]);
    const int step = next.pitch.midi - said.pitch.midi;
    return counts(next) && (step == 1 || step == -1 || step == -2);
  }

  theory::Degree degree_over(const Pitch& pitch) const {
    const int above = (pitch.midi - pitch_class(chord_.root) + 120) % 12;
    const auto degree = theory::usual_degree(above);
    return degree.number == 2 || degree.number == 4 || degree.number == 6
               ? theory::Degree{degree.number + 7, degree.alteration}
               : degree;
  }

  void describe(const Said& said, JudgedChange& judged) const {
    judged.midi = said.pitch.midi;
    judged.arrived = said.pitch.at;
    judged.in_set = neck::has(span_.set, said.pitch.midi);
    judged.in_position = is_in_position(said.pitch);
    judged.aimed_at = !said.degree || counts(said);
  }

  void land(Verdict verdict, const Said& said, std::size_t strike, JudgedChange& judged) const {
    judged.verdict = verdict;
    judged.degree = said.degree;
    judged.approach = approach_to(said.pitch, strike);
    describe(said, judged);
  }

  bool is_in_position(const Pitch& pitch) const {
    const auto& note = notes_[pitch.note];
    if (!note.string || *note.string < 1 ||
        static_cast<std::size_t>(*note.string) > ground_.open_strings.size())
      return span_.reachable[static_cast<std::size_t>(pitch.midi)];
    const int fret = note.midi - ground_.open_strings[static_cast<std::size_t>(*note.string - 1)];
    return fret >= span_.lowest_fret && fret <= span_.highest_fret;
  }

  /// From the strikes before it; a note that was held over, or struck again, is a common tone.
  Approach approach_to(const Pitch& pitch, std::size_t strike) const {
    if (pitch.at < change_.at && strikes_[strike].at < change_.at && strike == held().value_or(-1))
      return Approach::common_tone;
    std::vector<int> before; ///< The last first.
    if (pitch.at > strikes_[strike].at || !pitch.onset)
      before.push_back(notes_[pitch.note].midi);
    for (auto i = strike; i > 0 && before.size() < 2; --i)
      before.push_back(top_of(strikes_[i - 1]));
    if (before.empty())
      return Approach::leap;
    if (before.size() == 2 && encloses(before[1], before[0], pitch.midi))
      return Approach::enclosure;
    const int step = std::abs(before[0] - pitch.midi);
    return step == 0   ? Approach::common_tone
           : step == 1 ? Approach::half_step
           : step == 2 ? Approach::step
                       : Approach::leap;
  }

  static bool encloses(int first, int second, int aim) {
    const int a = first - aim, b = second - aim;
    return a * b < 0 && std::abs(a) <= 2 && std::abs(b) <= 2;
  }

  static int top_of(const Strike& strike) {
    int top = 0;
    for (const auto& pitch : strike.pitches)
      top = std::max(top, pitch.midi);
    return top;
  }

  const Ground& ground_;
  const Change& change_;
  const Span& span_;
  const theory::Chord& chord_;
  std::span<const HeardNote> notes_;
  std::vector<Strike> strikes_;
  Window window_;
};

} // namespace

Ticks final_at(const Ground& ground, const Change& change) {
  const auto tempo = ground.tempo.tempo_at(change.at);
  const auto beat = ground.spans[change.span].beat;
  return change.at + std::max(beat, ticks_of_ms(2 * most_late_ms, tempo)) +
         ticks_of_ms(settling_ms, tempo);
}

JudgedChange judge_change(const Ground& ground, std::size_t change,
                          std::span<const HeardNote> notes, const Settings& settings) {
  return ChangeJudge(ground, change, notes, settings).judge();
}

} // namespace landfall::ear
