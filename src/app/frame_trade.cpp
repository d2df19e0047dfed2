#include "app/frame_builder.hpp"
#include "ear/match_words.hpp"

#include <algorithm>
#include <cmath>

namespace landfall::app {
namespace {

constexpr double close_enough = 1e-6;
constexpr double least_span = 10.0; ///< Half steps of the picture: small lines stay small.

double beats_from(double now, Ticks tick) {
  return (static_cast<double>(tick.count) - now) / static_cast<double>(ticks_per_quarter);
}

double pitch_of(const trade::PhraseNote& note) {
  return note.midi.number + note.bend_cents.value_or(0.0) / 100.0;
}

/// Where pitches stand in the picture: the call and what is asked for fill it, with a margin for
/// notes beside them.
class Heights {
public:
  explicit Heights(const practice::TradeTurn& turn) {
    for (const auto* phrase : {&turn.call, &turn.asked})
      for (const auto& note : phrase->notes) {
        low_ = std::min(low_, pitch_of(note));
        high_ = std::max(high_, pitch_of(note));
      }
    if (low_ > high_)
      low_ = 55.0, high_ = 79.0;
    const double more = std::max(0.0, least_span - (high_ - low_)) / 2 + 2.0;
    low_ -= more;
    high_ += more;
  }

  double of(double midi) const { return std::clamp((midi - low_) / (high_ - low_), 0.0, 1.0); }

private:
  double low_ = 1e9, high_ = -1e9;
};

class TradeLane {
public:
  TradeLane(render::Lane& lane, const TradeView& trade, double now)
      : lane_(lane), trade_(trade), turn_(*trade.turn), heights_(turn_), now_(now) {}

  void dress() {
    lane_.standing_from = beats_from(now_, turn_.turn.call);
    lane_.standing_to = beats_from(now_, std::max(trade_.shown_to, turn_.turn.end));
    keep_turn();
    name_bars();
    if (turn_.kind == trade::AnswerKind::echo)
      lane_.verdicts.clear();
    lane_.trace.clear();
    if (trade_.shown)
      add_contour(turn_.call, turn_.turn.call, false);
    if (turn_.kind != trade::AnswerKind::free)
      add_contour(turn_.asked, turn_.turn.answer, true);
    add_answer();
  }

private:
  bool is_at(double beat, Ticks tick) const {
    return std::abs(beat - beats_from(now_, tick)) < close_enough;
  }

  /// What was before the turn is no longer shown.
  void keep_turn() {
    const double from = *lane_.standing_from - close_enough;
    std::erase_if(lane_.bars, [&](const auto& bar) { return bar.beat < from; });
    std::erase_if(lane_.verdicts, [&](const auto& verdict) { return verdict.beat < from; });
    render::LaneChord* held = nullptr;
    for (auto& chord : lane_.chords)
      if (chord.beat < from)
        held = &chord;
    if (held != nullptr && !is_at_any_chord(*lane_.standing_from))
      held->beat = *lane_.standing_from; // it goes on into the turn
    std::erase_if(lane_.chords, [&](const auto& chord) { return chord.beat < from; });
  }
  bool is_at_any_chord(double beat) const {
    return std::ranges::any_of(lane_.chords, [&](const auto& chord) {
      return std::abs(chord.beat - beat) < close_enough;
    });
  }

  void name_bars() {
    for (auto& bar : lane_.bars) {
      bar.number.clear();
      bar.section.clear();
      if (turn_.turn.has_call() && is_at(bar.beat, turn_.turn.call))
        bar.section = "call", bar.voice = render::Voice::call;
      else if (is_at(bar.beat, turn_.turn.answer))
        bar.section = "your answer", bar.voice = render::Voice::answer;
      else if (is_at(bar.beat, turn_.turn.end))
        bar.section = "call", bar.voice = render::Voice::call;
    }
  }

  /// A hidden call comes to light as the answer goes by.
  void add_contour(const trade::Phrase& phrase, Ticks from, bool faint) {
    for (std::size_t i = 0; i < phrase.notes.size(); ++i) {
      const auto& note = phrase.notes[i];
      auto end = note.start + note.length;
      if (i + 1 < phrase.notes.size() && phrase.notes[i + 1].start > note.start)
        end = std::min(end, phrase.notes[i + 1].start);
      const render::CallNote shown{beats_from(now_, from + note.start),
                                   beats_from(now_, from + end), heights_.of(pitch_of(note)),
                                   faint};
      if (trade_.shown || shown.to <= 0.0)
        lane_.call.push_back(shown);
    }
  }

  void add_answer() {
    if (trade_.verdict == nullptr)
      return;
    const auto& verdict = *trade_.verdict;
    const auto asked = practice::asked_notes(turn_);
    for (std::size_t i = 0; i < verdict.match.notes.size() && i < asked.size(); ++i)
      if (verdict.match.notes[i].heard)
        add_matched(verdict.match.notes[i], asked[i]);
    for (const auto index : verdict.match.extras)
      add_own(verdict.answer[index], !asked.empty());
  }

  double heard_pitch(const ear::MatchedNote& note, const ear::AskedNote& asked) const {
    if (turn_.kind == trade::AnswerKind::rhythm)
      return trade_.verdict->answer[*note.heard].midi;
    return asked.midi + (asked.bend_cents + note.cents_off) / 100.0;
  }

  void add_matched(const ear::MatchedNote& note, const ear::AskedNote& asked) {
    render::AnswerNote dot;
    const auto& match = trade_.verdict->match;
    const bool off_beat = std::abs(note.behind_ms) > match.close_ms;
    dot.beat = beats_from(now_, note.at);
    dot.height = heights_.of(heard_pitch(note, asked));
    dot.right = note.fate == ear::Fate::matched;
    dot.expected_beat = dot.right && off_beat ? beats_from(now_, asked.at) : dot.beat;
    dot.expected_height = turn_.kind == trade::AnswerKind::rhythm
                              ? dot.height
                              : heights_.of(asked.midi + asked.bend_cents / 100.0);
    if (dot.right)
      dot.expected_height = dot.height;
    dot.word = ear::note_words(note, match.close_ms);
    lane_.answer.push_back(dot);
  }

  /// A note that nobody asked for; in a free answer there is no other, and none is wrong.
  void add_own(const ear::HeardNote& note, bool extra) {
    render::AnswerNote dot;
    dot.beat = dot.expected_beat = beats_from(now_, note.on);
    dot.height = dot.expected_height = heights_.of(note.midi);
    dot.right = !extra;
    lane_.answer.push_back(dot);
  }

  render::Lane& lane_;
  const TradeView& trade_;
  const practice::TradeTurn& turn_;
  Heights heights_;
  double now_;
};

} // namespace

void dress_for_trade(render::Lane& lane, const TradeView& trade, double now) {
  if (trade.turn != nullptr)
    TradeLane(lane, trade, now).dress();
}

std::vector<SoundingNote> called_notes(const TradeView& trade, double now) {
  std::vector<SoundingNote> sounding;
  if (trade.turn == nullptr)
    return sounding;
  for (const auto& note : trade.turn->call.notes) {
    const double from = -beats_from(now, trade.turn->turn.call + note.start);
    if (from < 0.0 || from >= -beats_from(0.0, -note.length))
      continue;
    SoundingNote shown;
    shown.midi = note.midi.number;
    shown.bend = note.bend_cents.value_or(0.0) / 100.0;
    shown.string = note.string;
    shown.fret = note.fret;
    shown.call = true;
    sounding.push_back(shown);
  }
  return sounding;
}

} // namespace landfall::app
