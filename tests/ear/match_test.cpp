#include "match_cases.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <functional>

namespace landfall::ear {
namespace {

using Notes = std::vector<HeardNote>;

const std::vector<int> line{60, 62, 64, 65, 67, 65, 64, 60};

void leave_out(Notes& notes, std::size_t at) {
  notes.erase(notes.begin() + static_cast<std::ptrdiff_t>(at));
}
void add(Notes& notes, HeardNote note) {
  notes.push_back(std::move(note));
  std::stable_sort(notes.begin(), notes.end(),
                   [](const auto& a, const auto& b) { return a.on < b.on; });
}
void bend(HeardNote& note, Ticks at, double cents) {
  note.bends.push_back({at, cents});
}

struct Trial {
  std::vector<AskedNote> call = eighths(line);
  Notes notes = echo(call);
  MatchSettings settings{};
};

struct Case {
  const char* name;
  std::function<void(Trial&)> change;
  const char* picture;
  const char* words;
};

const std::vector<Case> cases{
    {"a true echo", [](Trial&) {}, "========", "all 8 notes"},
    {"nothing played", [](Trial& t) { t.notes.clear(); }, "--------", "no answer"},
    {"first missing", [](Trial& t) { leave_out(t.notes, 0); }, "-=======", "7 of 8 notes"},
    {"last missing", [](Trial& t) { leave_out(t.notes, 7); }, "=======-", "7 of 8 notes"},
    {"one in the middle missing", [](Trial& t) { leave_out(t.notes, 3); },
     "===-====", "7 of 8 notes"},
    {"two neighbours missing",
     [](Trial& t) {
       leave_out(t.notes, 3);
       leave_out(t.notes, 3);
     },
     "===--===", "6 of 8 notes"},
    {"only the last played", [](Trial& t) { t.notes = {t.notes.back()}; },
     "-------=", "1 of 8 notes"},
    {"half step high", [](Trial& t) { t.notes[2].midi += 1; }, "==x=====", "7 of 8 notes"},
    {"whole step low", [](Trial& t) { t.notes[4].midi -= 2; }, "====x===", "7 of 8 notes"},
    {"a wrong note that is the next one's pitch", [](Trial& t) { t.notes[2].midi = 65; },
     "==x=====", "7 of 8 notes"},
    {"a wrong note that is the pitch before", [](Trial& t) { t.notes[3].midi = 64; },
     "===x====", "7 of 8 notes"},
    {"an octave high where the octave counts", [](Trial& t) { t.notes[4].midi += 12; },
     "====x===", "7 of 8 notes"},
    {"all wrong, all in time",
     [](Trial& t) {
       for (auto& n : t.notes)
         n.midi += 6;
     },
     "xxxxxxxx", "0 of 8 notes"},
    {"an extra note between", [](Trial& t) { add(t.notes, heard_note(beats(1.25), 70)); },
     "========+", "all 8 notes; one note more"},
    {"an extra before the first", [](Trial& t) { add(t.notes, heard_note(beats(-0.5), 58)); },
     "========+", "all 8 notes; one note more"},
    {"an extra after the last", [](Trial& t) { add(t.notes, heard_note(beats(4.5), 58)); },
     "========+", "all 8 notes; one note more"},
    {"two extras",
     [](Trial& t) {
       add(t.notes, heard_note(beats(1.25), 70));
       add(t.notes, heard_note(beats(2.25), 71));
     },
     "========++", "all 8 notes; two notes more"},
    {"a note struck twice", [](Trial& t) { add(t.notes, heard_note(beats(1.2), 64)); }, "========+",
     "all 8 notes; one note more"},
    {"a missing and an extra elsewhere",
     [](Trial& t) {
       leave_out(t.notes, 1);
       add(t.notes, heard_note(beats(2.75), 75));
     },
     "=-======+", "7 of 8 notes; one note more"},
    {"a ghost", [](Trial& t) { add(t.notes, heard_note(beats(1.25), 43, 9, ms(30))); },
     "========", "all 8 notes"},
    {"a ghost on the note itself",
     [](Trial& t) { add(t.notes, heard_note(beats(1) - ms(5), 63, 9, ms(20))); },
     "========", "all 8 notes"},
    {"soft but long is no ghost", [](Trial& t) { add(t.notes, heard_note(beats(1.25), 43, 9)); },
     "========+", "all 8 notes; one note more"},
    {"a ghost where the note belongs counts for it",
     [](Trial& t) { t.notes[2] = heard_note(t.notes[2].on, 64, 9, ms(30)); },
     "========", "all 8 notes"},
    {"one behind", [](Trial& t) { t.notes[2].on += ms(60); },
     "========", "all 8 notes, one of them behind"},
    {"two behind",
     [](Trial& t) {
       t.notes[2].on += ms(38);
       t.notes[6].on += ms(38);
     },
     "========", "all 8 notes, two of them behind"},
    {"one ahead", [](Trial& t) { t.notes[5].on -= ms(50); },
     "========", "all 8 notes, one of them ahead"},
    {"one behind, one ahead",
     [](Trial& t) {
       t.notes[2].on += ms(60);
       t.notes[5].on -= ms(50);
     },
     "========", "all 8 notes, one of them behind, one of them ahead"},
    {"close enough is in time",
     [](Trial& t) {
       t.notes[2].on += ms(30);
       t.notes[5].on -= ms(30);
     },
     "========", "all 8 notes"},
    {"everything 80 ms behind",
     [](Trial& t) {
       for (auto& n : t.notes)
         n.on += ms(80);
     },
     "========", "all 8 notes; all of it 80 ms behind"},
    {"everything 60 ms ahead",
     [](Trial& t) {
       for (auto& n : t.notes)
         n.on -= ms(60);
     },
     "========", "all 8 notes; all of it 60 ms ahead"},
    {"everything an eighth behind",
     [](Trial& t) {
       for (auto& n : t.notes)
         n.on += eighth;
     },
     "========", "all 8 notes; all of it 250 ms behind"},
    {"80 ms behind, and one of it more",
     [](Trial& t) {
       for (auto& n : t.notes)
         n.on += ms(80);
       t.notes[4].on += ms(60);
     },
     "========", "all 8 notes, one of them behind; all of it 80 ms behind"},
    {"80 ms behind with a wrong and a missing note",
     [](Trial& t) {
       for (auto& n : t.notes)
         n.on += ms(80);
       t.notes[4].midi += 1;
       leave_out(t.notes, 6);
     },
     "====x=-=", "6 of 8 notes; all of it 80 ms behind"},
    {"four in a hundred slower",
     [](Trial& t) {
       for (auto& n : t.notes)
         n.on.count = n.on.count * 104 / 100;
     },
     "========", "all 8 notes; slower than the call"},
    {"five in a hundred faster",
     [](Trial& t) {
       for (auto& n : t.notes)
         n.on.count = n.on.count * 95 / 100;
     },
     "========", "all 8 notes; faster than the call"},
    {"slower with a wrong note",
     [](Trial& t) {
       for (auto& n : t.notes)
         n.on.count = n.on.count * 106 / 100;
       t.notes[3].midi += 2;
     },
     "===x====", "7 of 8 notes; slower than the call"},
    {"an octave low where any is allowed",
     [](Trial& t) {
       t.settings.octaves = Octaves::any;
       for (auto& n : t.notes)
         n.midi -= 12;
     },
     "========", "all 8 notes"},
    {"one note an octave high where any is allowed",
     [](Trial& t) {
       t.settings.octaves = Octaves::any;
       t.notes[3].midi += 12;
     },
     "========", "all 8 notes"},
    {"all an octave high where the whole may be",
     [](Trial& t) {
       t.settings.octaves = Octaves::whole;
       for (auto& n : t.notes)
         n.midi += 12;
     },
     "========", "all 8 notes"},
    {"one note an octave high where only the whole may be",
     [](Trial& t) {
       t.settings.octaves = Octaves::whole;
       t.notes[3].midi += 12;
     },
     "===x====", "7 of 8 notes"},
    {"two octaves low, one note wrong",
     [](Trial& t) {
       t.settings.octaves = Octaves::whole;
       for (auto& n : t.notes)
         n.midi -= 24;
       t.notes[1].midi += 1;
     },
     "=x======", "7 of 8 notes"},
    {"a bend that arrives",
     [](Trial& t) {
       t.notes[2].midi = 62;
       bend(t.notes[2], t.notes[2].on + ms(60), 120);
       bend(t.notes[2], t.notes[2].on + ms(90), 200);
     },
     "========", "all 8 notes"},
    {"a bend that does not arrive",
     [](Trial& t) {
       t.notes[2].midi = 62;
       bend(t.notes[2], t.notes[2].on + ms(60), 130);
     },
     "==x=====", "7 of 8 notes"},
    {"two notes of the call in one bend",
     [](Trial& t) {
       t.notes[1].off = t.notes[1].silent = beats(1.4);
       bend(t.notes[1], beats(1), 200);
       leave_out(t.notes, 2);
     },
     "========", "all 8 notes"},
    {"a bend that is asked for",
     [](Trial& t) {
       t.call[2].midi = 62;
       t.call[2].bend_cents = 200;
       t.notes[2].midi = 62;
       bend(t.notes[2], t.notes[2].on + ms(100), 200);
     },
     "========", "all 8 notes"},
    {"a fretted note for a bend that is asked for",
     [](Trial& t) {
       t.call[2].midi = 62;
       t.call[2].bend_cents = 200;
     },
     "========", "all 8 notes"},
    {"a bend that is asked for and not made", [](Trial& t) { t.call[2].bend_cents = 200; },
     "==x=====", "7 of 8 notes"},
    {"struck early and bent in time",
     [](Trial& t) {
       leave_out(t.notes, 2);
       t.notes[1].off.reset();
       bend(t.notes[1], beats(1), 200);
     },
     "========", "all 8 notes"},
    {"vibrato",
     [](Trial& t) {
       for (int i = 0; i < 8; ++i)
         bend(t.notes[4], t.notes[4].on + ms(25 * i), i % 2 ? 30 : -20);
     },
     "========", "all 8 notes"},
    {"a quarter tone high", [](Trial& t) { bend(t.notes[4], t.notes[4].on, 50); },
     "====x===", "7 of 8 notes"},
    {"thirty cents high", [](Trial& t) { bend(t.notes[4], t.notes[4].on, 30); },
     "========", "all 8 notes"},
    {"only the rhythm, own notes",
     [](Trial& t) {
       t.settings.pitches = false;
       for (auto& n : t.notes)
         n.midi = 50 + n.midi % 7;
     },
     "========", "all 8 notes"},
    {"only the rhythm, one missing, one behind",
     [](Trial& t) {
       t.settings.pitches = false;
       for (auto& n : t.notes)
         n.midi += 3;
       leave_out(t.notes, 7);
       t.notes[2].on += ms(70);
     },
     "=======-", "7 of 8 notes, one of them behind"},
    {"only the rhythm, an extra",
     [](Trial& t) {
       t.settings.pitches = false;
       add(t.notes, heard_note(beats(1.25), 70));
     },
     "========+", "all 8 notes; one note more"},
    {"repeated notes, one missing",
     [](Trial& t) {
       t.call = eighths({60, 60, 60, 60, 60});
       t.notes = echo(t.call);
       leave_out(t.notes, 2);
     },
     "==-==", "4 of 5 notes"},
    {"repeated notes, one behind",
     [](Trial& t) {
       t.call = eighths({60, 60, 60, 60, 60});
       t.notes = echo(t.call);
       t.notes[2].on += ms(80);
     },
     "=====", "all 5 notes, one of them behind"},
    {"a double stop, rolled downwards",
     [](Trial& t) {
       t.call = {{beats(0), eighth, 60}, {beats(1), quarter, 64}, {beats(1), quarter, 67}};
       t.notes = {heard_note(beats(0), 60), heard_note(beats(1), 67),
                  heard_note(beats(1) + ms(20), 64)};
     },
     "===", "all 3 notes"},
    {"half of a double stop",
     [](Trial& t) {
       t.call = {{beats(0), eighth, 60}, {beats(1), quarter, 64}, {beats(1), quarter, 67}};
       t.notes = {heard_note(beats(0), 60), heard_note(beats(1), 67)};
     },
     "=-=", "2 of 3 notes"},
    {"one note",
     [](Trial& t) {
       t.call = eighths({60});
       t.notes = echo(t.call);
     },
     "=", "1 of 1 note"},
    {"a pick-up before the turn",
     [](Trial& t) {
       t.call.front().at = beats(-0.5);
       t.notes.front().on = beats(-0.5);
     },
     "========", "all 8 notes"},
    {"the answer so far",
     [](Trial& t) {
       t.settings.until = beats(2.1);
       t.notes.resize(5);
     },
     "=====...", "5 of 8 notes"},
    {"nothing so far",
     [](Trial& t) {
       t.settings.until = beats(0);
       t.notes.clear();
     },
     "........", "nothing yet"},
    {"missed so far",
     [](Trial& t) {
       t.settings.until = beats(3);
       t.notes.clear();
     },
     "-----...", "nothing yet"},
    {"no call", [](Trial& t) { t.call.clear(); }, "++++++++", ""},
};
TEST_CASE("answers are aligned as a listener would") {
  CHECK(cases.size() >= 40);
  for (const auto& each : cases) {
    CAPTURE(each.name);
    Trial t;
    t.settings.tempo = case_tempo;
    each.change(t);
    const auto found = match(t.call, t.notes, t.settings);
    CHECK(picture(found) == each.picture);
    CHECK(summary_words(found) == each.words);
  }
}

} // namespace
} // namespace landfall::ear
