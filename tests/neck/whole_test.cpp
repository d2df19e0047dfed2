#include "neck/view.hpp"
#include "theory/scale.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <fstream>
#include <set>
#include <string>

// Every key, shape, note set and chord symbol on nine tunings, with nothing left out but the
// chord's root, which goes round. Failures are counted, since a check each would take longer than
// the work.

using namespace landfall;
using namespace landfall::neck;

namespace {

struct Tuning {
  const char* name;
  const char* strings;
};
constexpr std::array tunings{
    Tuning{"standard", "E2 A2 D3 G3 B3 E4"},  Tuning{"drop D", "D2 A2 D3 G3 B3 E4"},
    Tuning{"open G", "D2 G2 D3 G3 B3 D4"},    Tuning{"seven strings", "B1 E2 A2 D3 G3 B3 E4"},
    Tuning{"baritone", "B1 E2 A2 D3 F#3 B3"}, Tuning{"bass", "E1 A1 D2 G2"},
    Tuning{"mandolin", "G3 D4 A4 E5"},        Tuning{"ukulele", "G4 C4 E4 A4"},
    Tuning{"fourths", "E2 A2 D3 G3 C4 F4"}};

std::vector<std::string> symbols() {
  std::ifstream in(std::string(LANDFALL_SOURCE_DIR) + "/tests/oracle/chords.csv");
  std::vector<std::string> suffixes;
  for (std::string line; std::getline(in, line);)
    if (line.starts_with("C") && line.substr(0, 2) != "Cb")
      suffixes.push_back(line.substr(1, line.find(',') - 1));
  return suffixes;
}

std::vector<theory::NoteSet> sets() {
  std::vector<theory::NoteSet> all;
  for (const char* name : {"arpeggio", "fitting"})
    all.push_back(theory::parse_note_set(name).value());
  for (const auto& scale : theory::all_scales())
    all.push_back(theory::parse_note_set(scale.name).value());
  return all;
}

/// How many rules the notes of a view break.
int broken_rules(const Setting& setting, const Fretboard& board, const theory::Chord& chord,
                 const NeckView& seen) {
  int broken = 0;
  const auto under = board.under(seen.hand.low);
  const auto set = resolved(setting.set, setting.over, setting.key, chord);
  std::array<int, 128> times{};
  for (const auto& note : seen.notes) {
    const auto pitch = board.pitch(board.count - note.string, *note.fret);
    const int sound = pitch_class(note.midi);
    const bool in_set = set.contains(sound);
    const bool in_chord = degree_in(chord, sound).has_value();
    ++times[static_cast<std::size_t>(note.midi.number)];
    broken += pitch != note.midi.number;
    broken += pitch_class(note.note) != sound;
    broken += (pitch_class(chord.root) + half_steps(note.degree)) % 12 != sound;
    broken += note.in_set != in_set;
    broken += note.role == Role::set && (!in_set || in_chord);
    broken += note.role == Role::chord && (in_set || !in_chord);
    broken += note.role == Role::landing && !in_chord;
    broken += note.reach != under.reached(*note.fret);
    broken += !note.reach && !under.hand.contains(*note.fret);
  }
  std::array<bool, 128> reachable{};
  for (int string = 0; string < board.count; ++string)
    for (int fret = 0; fret <= board.frets; ++fret)
      if (under.hand.contains(fret) || under.reached(fret))
        if (const auto pitch = board.pitch(string, fret))
          reachable[static_cast<std::size_t>(*pitch)] = true;
  for (std::size_t pitch = 0; pitch < 128; ++pitch) {
    const bool wanted = reachable[pitch] && set.contains(static_cast<int>(pitch % 12));
    broken += wanted && times[pitch] == 0;
    broken += !board.reentrant && times[pitch] > 1;
  }
  return broken;
}

} // namespace

TEST_CASE("in every key, shape, set and chord, on every tuning, each note is what it says") {
  const auto all_sets = sets();
  const auto all_symbols = symbols();
  REQUIRE(all_symbols.size() >= 34);
  std::size_t views = 0, root = 0;
  for (const auto& tuning : tunings) {
    const auto instrument = retuned(standard_guitar(), parse_tuning(tuning.strings).value());
    const Fretboard board(instrument);
    int broken = 0;
    std::string first;
    for (int tonic = 0; tonic < 24; ++tonic) {
      const theory::Key start{{theory::Letter::c, 0}, tonic >= 12};
      const auto key = transposed(start, tonic % 12);
      for (int place = 0; place < 5; ++place) {
        PlaceRequest request;
        if (board.shape_offset)
          request.shape = "CAGED"[place];
        else
          request.position = 2 * place;
        const auto home = find_position(instrument, key, request);
        REQUIRE(home);
        for (const auto& set : all_sets) {
          Setting setting;
          setting.instrument = &instrument;
          setting.home = *home;
          setting.key = key;
          setting.set = set;
          setting.over = views % 2 == 0 ? theory::Over::chord : theory::usual_over(set);
          for (const auto& suffix : all_symbols) {
            auto chord = theory::parse_chord("C" + suffix).value();
            chord.root = spelled_in(key, static_cast<int>(root++ % 12));
            const auto seen = view(setting, chord, {false, false, 0});
            const int now = broken_rules(setting, board, chord, seen);
            if (now != 0 && broken == 0)
              first = ascii(chord) + " in " + ascii(key) + ", " + set.name;
            broken += now;
            ++views;
          }
        }
      }
    }
    CAPTURE(std::string(tuning.name));
    CAPTURE(first);
    CHECK(broken == 0);
  }
  CHECK(views > 1'000'000);
}
