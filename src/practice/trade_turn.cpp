#include "practice/trade_turn.hpp"

#include "ear/judge.hpp"
#include "ear/match_words.hpp"
#include "ear/words.hpp"

#include <algorithm>
#include <cassert>

namespace landfall::practice {
namespace {

constexpr std::size_t most_heard = 1000; ///< Notes of one answer that are looked at.
constexpr Ticks late = eighth;           ///< An answer's last note may come so much after its bars.

/// Notes of the answer, and those around it that may be: a pick-up, or a last one that is late.
std::vector<ear::HeardNote> around(const trade::Turn& turn, std::span<const ear::HeardNote> notes) {
  std::vector<ear::HeardNote> result;
  for (const auto& note : notes)
    if (note.on >= turn.opens() && note.on < turn.end + late)
      result.push_back(note);
  std::ranges::stable_sort(result, {}, &ear::HeardNote::on);
  result.resize(std::min(result.size(), most_heard));
  return result;
}

/// What lies outside the bars is only there to be matched: what was played along with the call is
/// no extra.
void forgive(ear::Match& match, const std::vector<ear::HeardNote>& answer,
             const trade::Turn& turn) {
  std::erase_if(match.extras, [&](std::size_t index) {
    const auto on = answer[index].on;
    return on < turn.answer - sixteenth || on >= turn.end;
  });
}

ear::Summary landings(const trade::Turn& turn, std::span<const ear::JudgedChange> changes) {
  std::vector<ear::JudgedChange> within;
  for (const auto& change : changes)
    if (change.at >= turn.answer && change.at <= turn.end)
      within.push_back(change);
  return ear::summary_of(within, {});
}

double share_of(const ear::Match& match) {
  const auto due = static_cast<int>(match.notes.size()) - match.count(ear::Fate::waiting);
  return due == 0 ? 0.0 : static_cast<double>(match.count(ear::Fate::matched)) / due;
}

std::string words_of(const TradeTurn& turn, const TurnVerdict& verdict) {
  const auto landed = ear::summary_words(verdict.landings);
  if (turn.kind == trade::AnswerKind::free || verdict.match.notes.empty())
    return verdict.answered && !landed.empty() ? landed
           : verdict.answered                  ? "played, nothing to land on"
                                               : "no answer";
  const auto matched = ear::summary_words(verdict.match);
  if (turn.kind != trade::AnswerKind::rhythm || landed.empty())
    return matched;
  return "rhythm " + matched + " · " + landed;
}

/// The note as it was known at `until`.
ear::HeardNote known_at(ear::HeardNote note, Ticks until) {
  for (auto* end : {&note.off, &note.silent})
    if (*end && **end > until)
      end->reset();
  std::erase_if(note.bends, [&](const ear::BendPoint& bend) { return bend.at > until; });
  return note;
}

} // namespace

trade::Phrase blank_over(const song::Performance& performance, Ticks from, Ticks to) {
  trade::Phrase phrase;
  phrase.bars = 0;
  phrase.length = to - from;
  for (Ticks at = from; at < to;) {
    const auto moment = performance.at(at);
    assert(moment);
    if (phrase.bars++ == 0) {
      phrase.meter = moment->bar->meter;
      phrase.key = moment->bar->key;
    }
    for (const auto& chord : moment->bar->chords)
      if (phrase.chords.empty() || phrase.chords.back().chord != chord.chord)
        phrase.chords.push_back({at - from + chord.at, chord.chord});
    at = std::min(performance.bar_line_from(at + Ticks{1}), to);
  }
  return phrase;
}

trade::Phrase phrase_of(std::span<const ear::HeardNote> notes, trade::Phrase blank, Ticks from,
                        Ticks to) {
  for (const auto& heard : notes) {
    if (heard.on < from || heard.on >= to)
      continue;
    trade::PhraseNote note;
    note.start = heard.on - from;
    const auto end = heard.off.value_or(heard.silent.value_or(to));
    note.length = std::max(std::min(end, to) - heard.on, Ticks{1});
    note.midi = {heard.midi};
    note.velocity = heard.velocity;
    note.string = heard.string;
    if (!heard.bends.empty() && std::abs(heard.bends.back().cents) > 35.0)
      note.bend_cents = heard.bends.back().cents;
    note.chord = trade::chord_index(blank, note.start);
    const auto& chord = blank.chords[static_cast<std::size_t>(note.chord)].chord;
    note.degree = trade::degree_over(chord, blank.key, note.midi);
    blank.notes.push_back(note);
  }
  std::ranges::stable_sort(blank.notes, [](const auto& a, const auto& b) {
    return std::pair(a.start, a.midi) < std::pair(b.start, b.midi);
  });
  return blank;
}

std::vector<ear::AskedNote> asked_notes(const TradeTurn& turn) {
  std::vector<ear::AskedNote> asked;
  if (turn.kind == trade::AnswerKind::free)
    return asked;
  for (const auto& note : turn.asked.notes)
    asked.push_back({turn.turn.answer + note.start, note.length, note.midi.number,
                     note.bend_cents.value_or(0.0)});
  return asked;
}

TurnVerdict judge_turn(const TradeTurn& turn, std::span<const ear::HeardNote> notes,
                       std::span<const ear::JudgedChange> changes, Tempo tempo,
                       std::optional<Ticks> until) {
  TurnVerdict verdict;
  verdict.answer = around(turn.turn, notes);
  verdict.landings = landings(turn.turn, changes);
  ear::MatchSettings settings;
  settings.tempo = tempo;
  settings.octaves = ear::Octaves::whole;
  settings.pitches = turn.kind != trade::AnswerKind::rhythm;
  settings.until = until;
  const auto asked = asked_notes(turn);
  verdict.match = ear::match(asked, verdict.answer, settings);
  forgive(verdict.match, verdict.answer, turn.turn);
  verdict.answered = std::ranges::any_of(verdict.answer, [&](const ear::HeardNote& note) {
    return note.on >= turn.turn.answer - sixteenth && note.on < turn.turn.end;
  });
  verdict.share =
      asked.empty() ? verdict.landings.landing_rate().value_or(0.0) : share_of(verdict.match);
  verdict.words = words_of(turn, verdict);
  return verdict;
}

TurnVerdict final_verdict(const TradeTurn& turn, std::span<const ear::HeardNote> notes,
                          std::span<const ear::JudgedChange> changes, Tempo tempo) {
  std::vector<ear::HeardNote> known;
  for (const auto& note : around(turn.turn, notes))
    known.push_back(known_at(note, turn.turn.end + judged_after));
  return judge_turn(turn, known, changes, tempo);
}

} // namespace landfall::practice
