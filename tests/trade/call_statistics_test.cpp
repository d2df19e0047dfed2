// What tells a made call from a plain random walk with the same number of notes over the same bars.

#include "trade/calls.hpp"
#include "trade/path.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

using namespace landfall;
using namespace landfall::trade;
using namespace landfall::trade::testing;

namespace {

/// A walk of up to three notes of the set up or down, at places of the grid drawn by lot.
Phrase random_walk(const CallRequest& request, std::size_t count, Chance& chance) {
  auto phrase = blank_phrase(*request.form, request.bar, request.bars);
  std::set<std::int64_t> places;
  const auto cells = phrase.length.count / eighth.count;
  while (places.size() < std::min(count, static_cast<std::size_t>(cells)))
    places.insert(static_cast<std::int64_t>(chance.unit() * static_cast<double>(cells)));
  int at = -1;
  for (const auto place : places) {
    const Ticks start = eighth * place;
    const int chord = chord_index(phrase, start);
    const auto notes =
        ground_under(request.setting, phrase.chords[static_cast<std::size_t>(chord)].chord).notes;
    const int size = static_cast<int>(notes.size());
    at = at < 0 ? static_cast<int>(chance.unit() * size)
                : std::clamp(at + static_cast<int>(chance.between(0.0, 7.0)) - 3, 0, size - 1);
    PhraseNote note;
    note.start = start;
    note.length = eighth;
    note.midi = notes[static_cast<std::size_t>(at)].midi;
    note.chord = chord;
    phrase.notes.push_back(note);
  }
  return phrase;
}

struct Share {
  double count = 0, of = 0;

  void add(bool holds) {
    count += holds ? 1 : 0;
    ++of;
  }
  double value() const { return of > 0 ? count / of : 0.0; }
};

/// All that is measured.
struct Statistics {
  Share steps;          ///< Intervals of at most a whole step.
  Share leaps;          ///< Intervals of a fourth or more.
  Share turned;         ///< Leaps after which the line turns back.
  Share repeats;        ///< A note struck again.
  Share strong_tones;   ///< Notes on the beat that are chord tones.
  Share landed;         ///< Calls that end on a chord tone.
  Share changes_landed; ///< Notes exactly at changes that are chord tones.
  Share motifs;         ///< Bars with three notes or more whose rhythm an earlier bar had.
  Share turns;          ///< Changes of direction among notes with two neighbours.
  std::map<int, int> intervals;

  void add(const Phrase& phrase);
};

bool is_tone(const Phrase& phrase, const PhraseNote& note) {
  const auto& chord = phrase.chords[static_cast<std::size_t>(note.chord)].chord;
  return chord && theory::degree_in(*chord, pitch_class(note.midi)).has_value();
}

void add_motifs(Share& motifs, const Phrase& phrase) {
  std::map<std::int64_t, std::set<std::int64_t>> bars;
  for (const auto& note : phrase.notes)
    if (note.start >= Ticks{})
      bars[floor_div(note.start, quarter * 4)].insert(floor_mod(note.start, quarter * 4).count);
  std::set<std::set<std::int64_t>> seen;
  for (const auto& [bar, rhythm] : bars) {
    if (rhythm.size() < 3)
      continue;
    if (bar > 0)
      motifs.add(seen.contains(rhythm));
    seen.insert(rhythm);
  }
}

void Statistics::add(const Phrase& phrase) {
  const auto& notes = phrase.notes;
  if (notes.empty())
    return;
  landed.add(is_tone(phrase, notes.back()));
  for (std::size_t i = 0; i < notes.size(); ++i) {
    if (floor_mod(notes[i].start, quarter).count == 0)
      strong_tones.add(is_tone(phrase, notes[i]));
    for (std::size_t k = 1; k < phrase.chords.size(); ++k)
      if (notes[i].start == phrase.chords[k].at)
        changes_landed.add(is_tone(phrase, notes[i]));
    if (i == 0)
      continue;
    const int first = notes[i].midi - notes[i - 1].midi;
    ++intervals[std::abs(first)];
    repeats.add(first == 0);
    steps.add(first != 0 && std::abs(first) <= 2);
    leaps.add(std::abs(first) >= 5);
    if (i + 1 < notes.size()) {
      const int second = notes[i + 1].midi - notes[i].midi;
      if (std::abs(first) >= 5)
        turned.add(first * second < 0 && std::abs(second) < std::abs(first));
      turns.add(first * second < 0);
    }
  }
  add_motifs(motifs, phrase);
}

void report(const std::string& name, const Statistics& s) {
  std::string intervals;
  for (const auto& [size, count] : s.intervals)
    intervals += " " + std::to_string(size) + ":" + std::to_string(count);
  MESSAGE(name, ": steps ", s.steps.value(), ", leaps ", s.leaps.value(), ", leaps turned back ",
          s.turned.value(), ", same note again ", s.repeats.value(), ", chord tones on the beat ",
          s.strong_tones.value(), ", ends landed ", s.landed.value(), ", changes landed ",
          s.changes_landed.value(), ", bars with an earlier rhythm ", s.motifs.value(), ", turns ",
          s.turns.value(), "; half steps", intervals);
}

} // namespace

TEST_CASE("calls differ from a random walk as music does") {
  const auto form = form_of("| C | Am | Dm7 | G7 | C | Am | Dm7 | G7 |", "C");
  Statistics calls, walks;
  std::set<std::uint64_t> different;
  Chance chance(11);
  constexpr std::uint64_t count = 400;
  for (std::uint64_t n = 0; n < count; ++n) {
    CallRequest request;
    request.form = &form;
    request.bars = 4;
    request.setting = guitar_setting("C", "major", theory::Over::key);
    request.density = plain_densities()[1];
    request.tempo = tempo_from_bpm(100);
    request.seed = n;
    const auto call = make_call(request);
    calls.add(call);
    different.insert(fingerprint(call));
    walks.add(random_walk(request, call.notes.size(), chance));
  }
  report("calls", calls);
  report("random walk", walks);
  CHECK(different.size() == count);
  CHECK(calls.steps.value() > 1.3 * walks.steps.value());
  CHECK(calls.leaps.value() < 0.7 * walks.leaps.value());
  CHECK(calls.turned.value() > walks.turned.value() + 0.1);
  CHECK(calls.strong_tones.value() > walks.strong_tones.value() + 0.15);
  CHECK(calls.landed.value() == 1.0);
  CHECK(calls.changes_landed.value() == 1.0);
  CHECK(walks.landed.value() < 0.8);
  CHECK(calls.motifs.value() > walks.motifs.value() + 0.12);
  CHECK(calls.repeats.value() < walks.repeats.value());
}
