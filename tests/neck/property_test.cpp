#include "neck/support.hpp"

#include <algorithm>
#include <map>
#include <set>

using namespace landfall::neck;
using landfall::theory::Over;
namespace theory = landfall::theory;

namespace {

constexpr std::array keys{"C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B"};
constexpr std::array suffixes{"",      "m",    "7",     "maj7", "m7",  "m7b5", "dim7",   "6",
                              "m6",    "sus4", "7sus4", "9",    "13",  "7#9",  "+",      "5",
                              "mMaj7", "6/9",  "dim",   "m11",  "7b9", "add9", "maj7#11"};

int midi_of(const Instrument& instrument, const NeckNote& note) {
  const auto index = instrument.strings.size() - static_cast<std::size_t>(note.string);
  const auto& string = instrument.strings[index];
  if (*note.fret == 0)
    return string.open.number + std::max(0, instrument.capo - string.first_fret);
  return string.open.number + *note.fret + instrument.capo - string.first_fret;
}

/// Every pitch of the view's tones that hand and reach can play, worked out the slow way.
std::set<int> reachable(const Instrument& instrument, const NeckView& view, bool in_hand_only) {
  const bool open = view.hand.low == 0;
  const int reach = open || in_hand_only ? 0 : instrument.reach;
  std::set<int> found;
  for (std::size_t s = 0; s < instrument.strings.size(); ++s)
    for (int fret = view.hand.low - reach;
         fret <= (open && !in_hand_only ? std::max(4, view.hand.high) : view.hand.high + reach);
         ++fret) {
      if (fret < 0 || fret + instrument.capo > instrument.frets)
        continue;
      if (fret > 0 && fret + instrument.capo <= instrument.strings[s].first_fret)
        continue;
      NeckNote note;
      note.string = static_cast<int>(instrument.strings.size() - s);
      note.fret = fret;
      found.insert(midi_of(instrument, note));
    }
  return found;
}

/// Whether the little finger's reach is still on a guitar's neck.
bool reach_on_neck(const NeckView& view) {
  return view.hand.low + 4 <= 22;
}

bool reentrant(const Instrument& instrument) {
  return !std::is_sorted(instrument.strings.begin(), instrument.strings.end(),
                         [](const String& a, const String& b) { return a.open < b.open; });
}

void check_notes(const Asked& asked, const theory::Chord& chord, const NeckView& view) {
  const auto setting = asked.setting();
  const auto set = resolved(setting.set, setting.over, setting.key, chord);
  const auto in_hand = reachable(asked.instrument, view, true);
  std::map<int, int> times;
  std::set<std::pair<int, int>> courses;
  bool overlaps = false;
  for (int tone = 0; tone < 12; ++tone)
    overlaps = overlaps || (set.contains(tone) && degree_in(chord, tone));
  for (const auto& note : view.notes) {
    const int tone = pitch_class(note.midi);
    REQUIRE(midi_of(asked.instrument, note) == note.midi.number);
    ++times[note.midi.number];
    REQUIRE(courses.insert({note.string, note.midi.number}).second);
    REQUIRE(note.reach != (*note.fret >= view.hand.low && *note.fret <= view.hand.high));
    REQUIRE((!note.reach || !in_hand.contains(note.midi.number)));
    REQUIRE(note.in_set == set.contains(tone));
    const auto degree = degree_in(chord, tone);
    REQUIRE((note.in_set || degree.has_value()));
    const auto role = !degree ? Role::set : note.in_set || !overlaps ? Role::landing : Role::chord;
    REQUIRE(note.role == role);
    REQUIRE(pitch_class(note.note) == tone);
    REQUIRE((pitch_class(chord.root) + pitch_class(note.degree)) % 12 == tone);
    if (degree) {
      REQUIRE(note.degree == *degree);
      REQUIRE(note.note == note_at(chord.root, *degree));
    } else {
      REQUIRE(note.note == set.spelled(tone));
    }
  }
  for (const int pitch : reachable(asked.instrument, view, false)) {
    const int tone = pitch % 12;
    const bool wanted = set.contains(tone) || degree_in(chord, tone);
    if (!wanted || !reentrant(asked.instrument))
      REQUIRE(times[pitch] == (wanted ? 1 : 0));
    else
      REQUIRE(times[pitch] >= 1);
  }
}

void check_groups(const theory::Chord& chord, const NeckView& view) {
  const ChordTones tones(chord);
  for (const auto& group : view.groups) {
    REQUIRE(group.strings[0] == group.strings[1] + 1);
    REQUIRE(group.strings[1] == group.strings[2] + 1);
    REQUIRE(group.pitches[0] < group.pitches[1]);
    REQUIRE(group.pitches[1] < group.pitches[2]);
    REQUIRE(group.pitches[2] - group.pitches[0] < 18);
    const auto [low, high] = std::minmax_element(group.frets.begin(), group.frets.end());
    REQUIRE(*high - *low <= 4);
    std::set<int> sounds;
    for (const int pitch : group.pitches)
      sounds.insert((pitch - tones.root + 132) % 12);
    const int bass = (group.pitches[0] - tones.root + 132) % 12;
    if (group.kind == Group::Kind::triad) {
      REQUIRE(sounds == std::set{0, tones.third, tones.fifth});
      REQUIRE(group.form == (bass == 0             ? "root position"
                             : bass == tones.third ? "first inversion"
                                                   : "second inversion"));
    } else {
      REQUIRE(sounds == std::set{0, tones.fifth});
      REQUIRE((group.form.front() == '1') == (bass == 0));
    }
  }
}

} // namespace

TEST_CASE("everything a view says is true: keys, shapes, sets, chords, tunings") {
  int turn = 0;
  for (const auto& instrument : many_instruments())
    for (const char* tonic : keys)
      for (const bool minor : {false, true}) {
        const auto key = std::string(tonic) + (minor ? "m" : "");
        for (const auto& home : all_positions(instrument, key_of(key.c_str()))) {
          PlaceRequest place{.position = home.low};
          if (home.shape)
            place.shape = home.shape->name;
          for (int sample = 0; sample < 4; ++sample, ++turn) {
            const auto scales = theory::all_scales();
            const auto which = static_cast<std::size_t>(turn) % (scales.size() + 2);
            const auto set = which < scales.size()    ? scales[which].name
                             : which == scales.size() ? std::string("arpeggio")
                                                      : "fitting";
            const Asked asked{instrument, key.c_str(), place, set.c_str(),
                              turn % 3 == 0 ? Over::chord : Over::key};
            const auto symbol = std::string(keys[static_cast<std::size_t>(turn / 5) % 12]) +
                                suffixes[static_cast<std::size_t>(turn) % suffixes.size()];
            CAPTURE(instrument.name);
            CAPTURE(key);
            CAPTURE(std::string(set));
            CAPTURE(std::string(symbol));
            CAPTURE(home.low);
            const auto chord = chord_of(symbol);
            const auto view = asked.view(symbol, {.groups = true, .grips = false});
            check_notes(asked, chord, view);
            check_groups(chord, view);
          }
        }
      }
}

TEST_CASE("landing notes are the landing notes of the view") {
  for (const char* symbol : {"A7", "D", "E7#9", "F#m7b5", "Csus4"})
    for (const char* set : {"arpeggio", "minor pentatonic", "major"}) {
      const Asked asked{.key = "A", .set = set};
      auto notes = asked.view(symbol).notes;
      std::erase_if(notes, [](const NeckNote& note) { return note.role != Role::landing; });
      CHECK(landing(asked.setting(), chord_of(symbol)) == notes);
    }
}

TEST_CASE("every pentatonic has two notes a string in all five places, the open position apart") {
  for (const char* tonic : keys)
    for (const bool minor_key : {false, true})
      for (const char* set : {"major pentatonic", "minor pentatonic"})
        for (const auto over : {Over::key, Over::chord}) {
          const auto key = std::string(tonic) + (minor_key ? "m" : "");
          for (const auto& home : all_positions(standard_guitar(), key_of(key.c_str()))) {
            const Asked asked{.key = key.c_str(),
                              .place = {.shape = home.shape->name, .position = home.low},
                              .set = set,
                              .over = over};
            const auto view =
                landfall::neck::view(asked.setting(), tonic_chord(key_of(key.c_str())),
                                     {.groups = false, .grips = false});
            if (view.hand.low == 0 || !reach_on_neck(view))
              continue;
            std::array<int, 7> notes{};
            for (const auto& note : view.notes)
              notes[static_cast<std::size_t>(note.string)] += note.in_set ? 1 : 0;
            CAPTURE(key);
            CAPTURE(std::string(set));
            CAPTURE(home.shape->name);
            CAPTURE(view.hand.low);
            CHECK(notes == std::array<int, 7>{0, 2, 2, 2, 2, 2, 2});
          }
        }
}

TEST_CASE("A minor pentatonic as a C shape") {
  const Asked asked{
      .key = "Am", .place = {.shape = 'C'}, .set = "minor pentatonic", .over = Over::key};
  CHECK(places_text(asked.view("Am")) == "10 12 | 10 12 | 10 12 | 9r 12 | 10 13 | 10 12");
}

TEST_CASE("a key moved by n frets moves every closed result by n frets") {
  for (const char shape : {'C', 'A', 'G', 'E', 'D'})
    for (const char* set : {"arpeggio", "fitting", "major", "minor pentatonic", "blues",
                            "composite", "half-whole diminished"})
      for (const bool minor : {false, true})
        for (std::size_t tonic = 0; tonic < keys.size(); ++tonic)
          for (const int frets : {1, 2, 5, 7}) {
            const auto low_key = std::string(keys[tonic]) + (minor ? "m" : "");
            const auto high_key =
                std::string(keys[(tonic + static_cast<std::size_t>(frets)) % 12]) +
                (minor ? "m" : "");
            const Asked low{.key = low_key.c_str(), .place = {.shape = shape}, .set = set};
            const auto& home = low.setting().home;
            const Asked high{.key = high_key.c_str(),
                             .place = {.shape = shape, .position = home.low + frets},
                             .set = set};
            if (high.setting().home.low != home.low + frets || home.low < 3 ||
                home.low + frets > 16)
              continue;
            CAPTURE(low_key);
            CAPTURE(high_key);
            CAPTURE(shape);
            CAPTURE(std::string(set));
            for (const int root : {0, 5, 7, 9}) {
              const auto chord = [&](const std::string& key, const char* suffix) {
                const auto tonic_note = key_of(key.c_str()).tonic;
                const auto note = theory::plain_note(pitch_class(tonic_note) + root, true);
                return ascii(note) + suffix;
              };
              for (const char* suffix : {"", "m7", "7"}) {
                const ViewOptions options{.groups = true, .grips = false};
                const auto a = low.view(chord(low_key, suffix), options);
                const auto b = high.view(chord(high_key, suffix), options);
                if (a.hand.low < 2)
                  continue;
                REQUIRE(b.hand.low == a.hand.low + frets);
                REQUIRE(b.chord_shape->name == a.chord_shape->name);
                REQUIRE(b.chord_shape->nut == a.chord_shape->nut + frets);
                REQUIRE(a.notes.size() == b.notes.size());
                for (std::size_t i = 0; i < a.notes.size(); ++i) {
                  REQUIRE(b.notes[i].string == a.notes[i].string);
                  REQUIRE(*b.notes[i].fret == *a.notes[i].fret + frets);
                  REQUIRE(b.notes[i].role == a.notes[i].role);
                  REQUIRE(b.notes[i].in_grip == a.notes[i].in_grip);
                }
                REQUIRE(a.groups.size() == b.groups.size());
                for (std::size_t i = 0; i < a.groups.size(); ++i)
                  REQUIRE(b.groups[i].frets[0] == a.groups[i].frets[0] + frets);
              }
            }
          }
}

TEST_CASE("the chord's shape does not depend on the note set, and the tonic keeps the key's") {
  for (const char* key : keys)
    for (const auto& home : all_positions(standard_guitar(), key_of(key)))
      for (const char* chord : {"C", "Eb7", "F#m", "A"}) {
        const PlaceRequest place{.shape = home.shape->name, .position = home.low};
        const Asked one{.key = key, .place = place, .set = "minor pentatonic"};
        const Asked two{.key = key, .place = place, .set = "arpeggio"};
        const ViewOptions notes_only{.groups = false, .grips = false};
        CHECK(one.view(chord, notes_only).chord_shape == two.view(chord, notes_only).chord_shape);
        CHECK(one.view(key, notes_only).chord_shape == home.shape);
      }
}
