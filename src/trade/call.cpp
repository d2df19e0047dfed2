#include "trade/call.hpp"

#include "trade/call_line.hpp"

#include <algorithm>
#include <cassert>

namespace landfall::trade {
namespace {

constexpr int most_attempts = 64;
constexpr int patient_attempts = 8; ///< So many look for a call of some length.
constexpr std::size_t fewest_notes = 3;

int loudness(const Onset& onset, PhraseRole role, Chance& chance) {
  int velocity = 78 + 4 * onset.weight + (role == PhraseRole::landing ? 8 : 0);
  if (role == PhraseRole::approach || role == PhraseRole::enclosure)
    velocity -= 6;
  if (onset.weight == 0 && onset.length >= quarter) // a push is leant on
    velocity += 8;
  return velocity + static_cast<int>(chance.between(-4.0, 5.0));
}

PhraseNote note_of(const Onset& onset, const LineNote& drawn, const Phrase& phrase,
                   Chance& chance) {
  PhraseNote note;
  note.start = onset.start;
  note.length = onset.length;
  note.midi = drawn.spot->midi;
  note.string = drawn.spot->string;
  note.fret = drawn.spot->fret;
  note.role = drawn.role;
  note.velocity = loudness(onset, drawn.role, chance);
  note.chord = drawn.chord >= 0 ? drawn.chord : onset.chord;
  note.degree =
      degree_over(phrase.chords[static_cast<std::size_t>(note.chord)].chord, phrase.key, note.midi);
  return note;
}

/// Whether the hand gets from each note to the next in time.
bool in_time(const LineRequest& request, const std::vector<LineNote>& line) {
  for (std::size_t i = 1; i < line.size(); ++i)
    if (line[i - 1].spot != nullptr && line[i].spot != nullptr &&
        duration_of(request.onsets[i].start - request.onsets[i - 1].start, request.tempo) <
            quickest(*line[i - 1].spot, *line[i].spot))
      return false;
  return true;
}

/// All that attempts at one call have in common.
class CallMaker {
public:
  explicit CallMaker(const CallRequest& request)
      : request_(request), phrase_(blank_phrase(*request.form, request.bar, request.bars)),
        beats_(turn_beats(*request.form, request.bar, request.bars)) {
    phrase_.key = request.setting.key;
    for (const auto& chord : phrase_.chords) {
      grounds_.push_back(ground_under(request.setting, chord.chord));
      changes_.push_back(chord.at);
    }
  }

  /// None if the hand could not play it.
  std::optional<Phrase> make(std::uint64_t seed) const {
    Chance chance(seed);
    const auto onsets =
        make_rhythm({beats_, changes_, request_.groove, request_.tempo, &request_.density}, chance);
    const LineRequest line{onsets, grounds_, &request_.density, request_.tempo,
                           request_.setting.instrument->kind};
    const auto shape = any_shape(line, chance);
    auto notes = choose_goals(line, shape, chance);
    draw_line(line, shape, notes, chance);
    if (!in_time(line, notes))
      return std::nullopt;
    auto phrase = phrase_;
    for (std::size_t i = 0; i < notes.size(); ++i)
      if (notes[i].spot != nullptr)
        phrase.notes.push_back(note_of(onsets[i], notes[i], phrase, chance));
    return phrase;
  }

private:
  const CallRequest& request_;
  Phrase phrase_; ///< Without notes.
  std::vector<TurnBeat> beats_;
  std::vector<Ticks> changes_;
  std::vector<Ground> grounds_; ///< By chord.
};

} // namespace

Phrase make_call(const CallRequest& request) {
  assert(request.form != nullptr && request.setting.instrument != nullptr);
  const CallMaker maker(request);
  auto call = blank_phrase(*request.form, request.bar, request.bars);
  for (int attempt = 0; attempt < most_attempts; ++attempt) {
    auto made = maker.make(drawn({request.seed, static_cast<std::uint64_t>(attempt)}));
    if (!made || (attempt < patient_attempts && made->notes.size() < fewest_notes))
      continue;
    call = std::move(*made);
    if (std::find(request.recent.begin(), request.recent.end(), fingerprint(call)) ==
        request.recent.end())
      break;
  }
  return call;
}

std::uint64_t fingerprint(const Phrase& phrase) {
  std::uint64_t state = phrase.notes.size();
  for (const auto& note : phrase.notes)
    state = drawn({state, static_cast<std::uint64_t>(note.start.count),
                   static_cast<std::uint64_t>(note.midi.number)});
  return state;
}

} // namespace landfall::trade
