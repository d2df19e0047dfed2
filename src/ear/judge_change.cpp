#include "ear/judge_change.hpp"

#include "ear/judge.hpp"
#include "ear/sounding.hpp"
#include "ear/strike.hpp"
#include "ear/window.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace landfall::ear {
namespace {

/// What a note says of the chord.
struct Said {
  std::size_t note = 0;
  Ticks at; ///< Its onset, or where its bend arrived.
  Pitch pitch;
  std::optional<theory::Degree> degree; ///< If a chord tone.
  bool bent = false;                    ///< A bend arrived.
};

/// The strike that arrives.
struct Arrival {
  std::size_t strike = 0;
  bool held = false; ///< Over the change, by a finger.
};

class ChangeJudge {
public:
  ChangeJudge(const Ground& ground, std::size_t index, std::span<const HeardNote> notes,
              const Settings& settings)
      : ground_(ground), change_(ground.changes[index]), span_(ground.spans[change_.span]),
        chord_(*span_.chord), line_(ground, notes, settings),
        window_(window_of(ground, index, settings)), latest_(latest_of(ground, index, settings)),
        tempo_(ground.tempo.tempo_at(change_.at)) {}

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

  /// Whether the arrival itself lands: near the change or held over it, by no bend.
  bool lands_at_once() const {
    const auto arrival = find_arrival();
    if (!arrival || (!arrival->held && distance(arrival->strike) > sixteenth))
      return false;
    const auto said = said_by(*arrival, Ticks{INT64_MIN});
    return counts(said);
  }

private:
  using Index = std::optional<std::size_t>;

  Ticks distance(std::size_t strike) const {
    const auto apart = line_[strike].at - change_.at;
    return apart < Ticks{} ? -apart : apart;
  }

  /// The strike nearest the change among those in the window and within `most`; of two the later.
  Index nearest(Ticks most) const {
    Index best;
    for (auto i = line_.from(window_.from); i < line_.size() && line_[i].at <= window_.to; ++i)
      if (distance(i) <= most && (!best || distance(i) <= distance(*best)))
        best = i;
    return best;
  }

  bool is_down(const HeardNote& note) const { return !note.off || *note.off > change_.at; }

  /// The newest strike before the change, if a finger still holds it there.
  Index held() const {
    const auto after = line_.from(change_.at);
    if (after == 0)
      return {};
    const auto notes = line_.notes_of(after - 1);
    const bool down = std::any_of(notes.begin(), notes.end(),
                                  [&](std::size_t note) { return is_down(line_.note(note)); });
    return down ? Index(after - 1) : Index();
  }

  std::optional<Arrival> find_arrival() const {
    if (const auto near = nearest(sixteenth))
      return Arrival{*near, false};
    if (const auto before = held())
      return Arrival{*before, true};
    if (const auto far = nearest(window_.to - window_.from))
      return Arrival{*far, false};
    return std::nullopt;
  }

  std::optional<theory::Degree> degree_of(const Pitch& pitch) const {
    return pitch.settled ? degree_in(chord_, pitch.midi % 12) : std::nullopt;
  }

  /// Whether it is a chord tone that is aimed at.
  bool counts(const Said& said) const {
    return said.degree && neck::has(span_.aimed, said.pitch.midi);
  }

  /// At its onset, or at the change if held over it; or where a bend arrives, until `bends_until`.
  Said said_by_note(std::size_t index, bool held, Ticks bends_until) const {
    const auto& note = line_.note(index);
    const auto pitch = pitch_at(note, held ? change_.at : note.on, tempo_);
    Said said{index, note.on, pitch, degree_of(pitch), false};
    if (counts(said) || note.bends.empty())
      return said;
    const auto from = std::max(note.on, held ? window_.from : note.on);
    const auto to = std::min(bends_until, note.silent.value_or(bends_until));
    if (const auto bend = bend_arrival(note, from, to, span_.aimed, tempo_))
      return {index, bend->at, bend->pitch, degree_of(bend->pitch), true};
    return said;
  }

  /// Guide tones first, then root and fifth, then what lies above; lower is better.
  int rank(const Said& said) const {
    if (!said.degree)
      return 9;
    if (!counts(said))
      return 5;
    for (const auto guide : guide_tones(chord_))
      if (guide == *said.degree)
        return 0;
    return said.degree->number == 1 || said.degree->number == 5 ? 1 : 2;
  }

  bool is_better(const Said& a, const Said& b) const {
    return rank(a) != rank(b) ? rank(a) < rank(b) : a.pitch.midi > b.pitch.midi;
  }

  /// Of two notes the better degree, of more the top one; bends only where none counts as struck.
  Said said_by(const Arrival& arrival, Ticks bends_until) const {
    const auto struck = best_of(arrival, Ticks{INT64_MIN});
    return counts(struck) ? struck : best_of(arrival, bends_until);
  }

  Said best_of(const Arrival& arrival, Ticks bends_until) const {
    const auto notes = line_.notes_of(arrival.strike);
    std::optional<Said> best;
    std::size_t count = 0;
    for (const auto index : notes)
      count += !arrival.held || is_down(line_.note(index)) ? 1 : 0;
    for (const auto index : notes) {
      if (arrival.held && !is_down(line_.note(index)))
        continue;
      const auto said = said_by_note(index, arrival.held, bends_until);
      const bool wins =
          count == 2 ? best && is_better(said, *best) : best && said.pitch.midi > best->pitch.midi;
      if (!best || wins)
        best = said;
    }
    return *best;
  }

  Said said_by(std::size_t strike, Ticks bends_until) const {
    return said_by(Arrival{strike, false}, bends_until);
  }

  void judge(const Arrival& arrival, JudgedChange& judged) const {
    const auto said = said_by(arrival, window_.to);
    if (counts(said))
      return land(Verdict::landed, said, arrival, judged);
    const auto next = arrival.strike + 1;
    if (leans(arrival))
      return land(Verdict::landed, said_by(next, window_.to), {next, false}, judged);
    for (auto i = next; i < line_.size() && line_[i].at <= latest_; ++i)
      if (const auto later = said_by(i, latest_); counts(later))
        return land(Verdict::late, later, {i, false}, judged);
    if (const auto bent = said_by(arrival, latest_); counts(bent))
      return land(Verdict::late, bent, arrival, judged);
    judged.verdict = Verdict::off;
    describe(said, judged);
    judged.held = said.degree ? said.degree : degree_over(said.pitch);
  }

  /// The next strike, still in the window, is a chord tone a half step away or a whole step below.
  bool leans(const Arrival& arrival) const {
    const auto next = arrival.strike + 1;
    if (next >= line_.size() || !window_.holds(line_[next].at))
      return false;
    const auto to = said_by(next, window_.to);
    const int step = to.pitch.midi - top_of(arrival.strike, line_[next].at);
    return counts(to) && (step == 1 || step == -1 || step == -2);
  }

  /// Its degree over the chord, upper notes named as colours: 9, 13.
  theory::Degree degree_over(const Pitch& pitch) const {
    auto degree = theory::usual_degree(pitch.midi - pitch_class(chord_.root));
    const bool seventh = degree_numbered(chord_, 7).has_value();
    if (degree.number == 2 || (seventh && (degree.number == 4 || degree.number == 6)))
      degree.number += 7;
    return degree;
  }

  void describe(const Said& said, JudgedChange& judged) const {
    judged.midi = said.pitch.midi;
    judged.arrived = said.at;
    judged.in_set = neck::has(span_.set, said.pitch.midi);
    judged.in_position = is_in_position(line_.note(said.note), said.pitch);
    judged.aimed_at = !said.degree || counts(said);
  }

  void land(Verdict verdict, const Said& said, const Arrival& arrival, JudgedChange& judged) const {
    judged.verdict = verdict;
    judged.degree = said.degree;
    judged.approach = approach_to(said, arrival);
    describe(said, judged);
  }

  bool is_in_position(const HeardNote& note, const Pitch& pitch) const {
    const auto fret = fret_of(ground_, note);
    return fret ? *fret >= span_.lowest_fret && *fret <= span_.highest_fret
                : span_.reachable[static_cast<std::size_t>(pitch.midi)];
  }

  /// From the strikes before it; a note held over is a common tone, a bend comes from its own note.
  Approach approach_to(const Said& said, const Arrival& arrival) const {
    if (arrival.held && !said.bent)
      return Approach::common_tone;
    std::array<int, 2> before{}; ///< The last first.
    std::size_t count = 0;
    if (said.bent)
      before[count++] = pitch_at(line_.note(said.note), line_.note(said.note).on, tempo_).midi;
    for (auto i = arrival.strike; i > 0 && count < before.size(); --i)
      before[count++] = top_of(i - 1, line_[i].at);
    if (count == 0)
      return Approach::leap;
    if (count == 2 && encloses(before[1], before[0], said.pitch.midi))
      return Approach::enclosure;
    switch (std::abs(before[0] - said.pitch.midi)) {
    case 0:
      return Approach::common_tone;
    case 1:
      return Approach::half_step;
    case 2:
      return Approach::step;
    default:
      return Approach::leap;
    }
  }

  static bool encloses(int first, int second, int aim) {
    const int a = first - aim, b = second - aim;
    return a * b < 0 && std::abs(a) <= 2 && std::abs(b) <= 2;
  }

  /// The highest sound of a strike as it stood before `tick`.
  int top_of(std::size_t strike, Ticks tick) const {
    int top = 0;
    for (const auto note : line_.notes_of(strike))
      top = std::max(top, last_midi(line_.note(note), tick));
    return top;
  }

  const Ground& ground_;
  const Change& change_;
  const Span& span_;
  const theory::Chord& chord_;
  Line line_;
  Window window_;
  Ticks latest_;
  Tempo tempo_;
};

} // namespace

std::optional<int> fret_of(const Ground& ground, const HeardNote& note) {
  if (!note.string || *note.string < 1 ||
      static_cast<std::size_t>(*note.string) > ground.open_strings.size())
    return std::nullopt;
  return note.midi - ground.open_strings[static_cast<std::size_t>(*note.string - 1)];
}

bool asks(const Ground& ground, const Change& change) {
  return !change.space && ground.spans[change.span].aimed != 0;
}

JudgedChange judge_change(const Ground& ground, std::size_t change,
                          std::span<const HeardNote> notes, const Settings& settings) {
  return ChangeJudge(ground, change, notes, settings).judge();
}

bool lands_at_once(const Ground& ground, std::size_t change, std::span<const HeardNote> notes,
                   const Settings& settings) {
  return ChangeJudge(ground, change, notes, settings).lands_at_once();
}

} // namespace landfall::ear
