#!/usr/bin/env python3
"""Takes made by python3-mido whose truth is known, against what `landfall review` says of them.

usage: takes_test.py LANDFALL

Each take strings situations together, one around each change, in an order that a seed gives. A
situation is what is played, in milliseconds around the change and half steps over the root of its
chord, and what must come of it by the rules of judging. Every change of every take is compared.
"""
import json
import os
import random
import subprocess
import sys
import tempfile

PROGRAM = sys.argv[1]
TICKS = 480
ROOTS = {"C": 60, "D": 62, "E": 64, "F": 65, "G": 67, "A": 57, "Dm7": 62, "G7": 55, "Cmaj7": 60}
failures = []


def note(at, over, length, velocity=90, bends=()):
    """`bends`: (ms around the change, cents)."""
    return {"at": at, "over": over, "length": length, "velocity": velocity, "bends": list(bends)}


def glide(start, end, low, high):
    steps = 12
    return [(start + (end - start) * i / steps, low + (high - low) * i / steps) for i in range(steps + 1)]


def shake(start, end, depth):
    """A triangle of 150 ms."""
    shape = [0, 1, 0, -1]
    return [(start + i * 37.5, depth * shape[i % 4]) for i in range(int((end - start) / 37.5))] + [(end, 0)]


THIRD, FIFTH, ROOT, NINTH, FOURTH, SIXTH = 4, 7, 0, 2, 5, 9
PEDAL = "pedal"
# Far from everything and in no chord: so that no approach reaches back to the last situation.
APART = note(505, 18, 30)

# Name: what is played, verdict, degree, approach (None: not asked for here). At 120 to the minute
# the window reaches from 290 ms before to 250 ms after the change; a beat is 500 ms.
SITUATIONS = {
    "on the beat": ([note(0, THIRD, 400)], "landed", "3", None),
    "early": ([note(-100, FIFTH, 350)], "landed", "5", None),
    "early at the edge": ([note(-280, ROOT, 60)], "landed", "1", None),
    "earlier than the window": ([note(-310, THIRD, 60)], "rest", None, None),
    "behind": ([note(240, THIRD, 200)], "landed", "3", None),
    "behind the window": ([note(262, THIRD, 180)], "rest", None, None),
    "tied over the change": ([note(-430, THIRD, 860)], "landed", "3", "common tone"),
    "a wrong note tied over": ([note(-430, NINTH, 860)], "off", None, None),
    "ringing under a newer note": ([note(-440, THIRD, 880), note(-330, NINTH, 700)], "off", None, None),
    "held by the pedal alone": ([PEDAL, note(-440, THIRD, 60)], "rest", None, None),
    "struck while the pedal is down": ([PEDAL, note(-440, THIRD, 60), note(0, FIFTH, 200)], "landed", "5", None),
    "leaning from a half step over": ([note(0, FOURTH, 150), note(200, THIRD, 200)], "landed", "3", "half step"),
    "leaning from a half step under": ([note(0, 3, 150), note(200, THIRD, 200)], "landed", "3", "half step"),
    "leaning from a whole step over": ([note(0, NINTH, 150), note(200, ROOT, 200)], "landed", "1", "step"),
    "a whole step under does not lean": ([note(0, NINTH, 150), note(200, THIRD, 200)], "late", "3", "step"),
    "late": ([note(0, NINTH, 150), note(420, THIRD, 30)], "late", "3", "step"),
    "off": ([note(0, NINTH, 300)], "off", None, None),
    "a sixth": ([note(0, SIXTH, 300)], "off", None, None),
    "nothing": ([], "rest", None, None),
    "entering later": ([note(400, THIRD, 50)], "rest", None, None),
    "struck again": ([note(t, FIFTH, 90) for t in (-250, -125, 0, 125)], "landed", "5", "common tone"),
    "by step": ([note(-250, NINTH, 240), note(0, THIRD, 300)], "landed", "3", "step"),
    "by half step": ([note(-250, FOURTH, 240), note(0, THIRD, 300)], "landed", "3", "half step"),
    "by leap": ([note(-250, ROOT, 240), note(0, FIFTH, 300)], "landed", "5", "leap"),
    "enclosed": ([note(-440, FOURTH, 190), note(-240, 3, 230), note(0, THIRD, 300)], "landed", "3", "enclosure"),
    "grace note": ([note(-60, 3, 50), note(0, THIRD, 300)], "landed", "3", "half step"),
    "double stop": ([note(0, NINTH, 300), note(5, THIRD, 300)], "landed", "3", None),
    "both wrong": ([note(0, NINTH, 300), note(5, FOURTH, 300)], "off", None, None),
    "full chord": ([note(0, ROOT, 300), note(4, THIRD, 300), note(8, FIFTH, 300)], "landed", "5", None),
    "full chord, wrong on top": ([note(0, ROOT, 300), note(4, THIRD, 300), note(8, SIXTH, 300)], "off", None, None),
    "another octave": ([note(0, THIRD + 12, 300)], "landed", "3", None),
    "vibrato": ([note(0, THIRD, 440, 90, shake(0, 440, 30))], "landed", "3", None),
    "vibrato on a wrong note": ([note(0, NINTH, 440, 90, shake(0, 440, 40))], "off", None, None),
    "bent up to it": ([note(-50, NINTH, 490, 90, glide(0, 150, 0, 200))], "landed", "3", None),
    "bent up by a half step": ([note(0, 3, 440, 90, glide(60, 150, 0, 100))], "landed", "3", None),
    "bent before, held over": ([note(-440, NINTH, 880, 90, glide(-440, -290, 0, 200))], "landed", "3", None),
    "bent through it": ([note(0, NINTH, 440, 90, glide(0, 200, 0, 300))], "off", None, None),
    "pre-bent": ([note(0, NINTH, 440, 90, [(-60, 200)])], "landed", "3", None),
    "pre-bent and released": ([note(-50, ROOT, 480, 90, [(-100, 200)] + glide(20, 140, 200, 0))], "landed", "1", None),
    "a little sharp": ([note(0, THIRD, 300, 90, [(-10, 25)])], "landed", "3", None),
}
# Ghosts are let pass where strings are heard one by one.
GHOST = {"ghost": ([note(0, NINTH, 12, 8), note(75, THIRD, 300)], "landed", "3", None)}
STEADY = ["on the beat", "early", "tied over the change", "off", "nothing", "late", "double stop",
          "full chord", "another octave", "by half step"]


class Form:
    """A song, and where it asks: (bar, beat, chord, quarters from the form's start)."""

    def __init__(self, song, quarters, changes):
        self.song, self.quarters, self.changes = song, quarters, changes


def bars(*chords, length=4):
    return [(i + 1, 1, chord, i * length) for i, chord in enumerate(chords) if chord]


FORMS = {
    "a bar each": Form("A | D | E | A", 16, bars("A", "D", "E", "A")),
    "a chord of four bars and four more": Form("G | G | G | G | G | G | G | G | C", 36,
                                               [(1, 1, "G", 0), (5, 1, "G", 16), (9, 1, "C", 32)]),
    "no chord asks for nothing": Form("A | N.C. | D", 12, bars("A", None, "D")),
    "sevenths": Form("Dm7 | G7 | Cmaj7", 12, bars("Dm7", "G7", "Cmaj7")),
    "two in a bar": Form("A D | E A", 8, [(1, 1, "A", 0), (1, 3, "D", 2), (2, 1, "E", 4), (2, 3, "A", 6)]),
}


# Songs as files. In 6/8 a beat is the dotted quarter; an eighth is as long as elsewhere.
SONGS = {
    "six eight": ("title: Six\nkey: A\nmeter: 6/8\n\n| A | D | E | A |\n",
                  12, bars("A", "D", "E", "A", length=3)),
    "three four": ("title: Three\nkey: G\nmeter: 3/4\n\n| G | C | D | C |\n",
                   12, bars("G", "C", "D", "C", length=3)),
    "repeats": ("title: Twice\nkey: A\n\nform: A A B\n\nA:\n| A | D |\n\nB:\n| E | D |\n",
                24, [(i + 1, 1, chord, i * 4) for i, chord in enumerate("ADADED")]),
}


def write(path, form, situations, mode, tempi):
    """The take as a MIDI file of one track; `tempi`: (quarters, microseconds a quarter)."""
    import mido
    events = []  # (tick, order, message)

    def put(tick, message, order=1):
        events.append((max(0, round(tick)), order, message))

    def tick_of(quarters, ms):
        """`ms` from a place, by the tempo there."""
        micros = [each for at, each in tempi if at <= quarters][-1]
        return (quarters + ms * 1000 / micros) * TICKS

    spread = {"one": 12, "strings": 12, "mpe": 48}[mode]
    channels = {"one": [0], "strings": [0, 1, 2, 3, 4, 5], "mpe": list(range(1, 16))}[mode]

    def parameter(channel, number, value):
        for control, data in ((101, 0), (100, number), (6, value), (101, 127), (100, 127)):
            put(0, mido.Message("control_change", channel=channel, control=control, value=data), -1)

    if mode == "mpe":
        parameter(0, 6, 15)
    else:
        for channel in channels:
            parameter(channel, 0, spread)
    for at, micros in tempi:
        put(at * TICKS, mido.MetaMessage("set_tempo", tempo=micros), -2)
    turn = 0
    open_strings = [64, 59, 55, 50, 45, 40]
    for quarters, root, played in situations:
        for one in played:
            if one == PEDAL:
                for channel in channels if mode == "strings" else [0]:
                    for ms, value in ((-450, 127), (450, 0)):
                        put(tick_of(quarters, ms), mido.Message("control_change", channel=channel, control=64, value=value))
                continue
            pitch = root + one["over"]
            usable = channels if mode != "strings" else [c for c in channels if 0 <= pitch - open_strings[c] <= 21]
            turn += 1
            channel = usable[turn % len(usable)]
            put(tick_of(quarters, one["at"]), mido.Message("note_on", channel=channel, note=pitch, velocity=one["velocity"]), 2)
            put(tick_of(quarters, one["at"] + one["length"]), mido.Message("note_off", channel=channel, note=pitch), 0)
            for ms, cents in one["bends"]:
                put(tick_of(quarters, ms), mido.Message("pitchwheel", channel=channel, pitch=min(8191, round(cents / 100 / spread * 8192))))
            if one["bends"]:
                put(tick_of(quarters, 470), mido.Message("pitchwheel", channel=channel, pitch=0))
    file = mido.MidiFile(ticks_per_beat=TICKS)
    track = mido.MidiTrack()
    track.append(mido.MetaMessage("track_name", name="player"))
    last = 0
    for tick, _, message in sorted(events, key=lambda each: each[:2]):
        track.append(message.copy(time=tick - last))
        last = tick
    end = round((situations[-1][0] + form.quarters) // form.quarters * form.quarters * TICKS)
    track.append(mido.MetaMessage("end_of_track", time=max(0, end - last)))
    file.tracks.append(track)
    file.save(path)


def review(path, form, mode):
    done = subprocess.run([PROGRAM, "review", path, "--song", form.song, "--mode", mode, "--json"],
                          capture_output=True, text=True, env={**os.environ, "LC_ALL": "C.UTF-8"})
    if done.returncode != 0:
        failures.append(f"{form.song}: {done.stderr.strip()}")
        return {"changes": []}
    return json.loads(done.stdout)


def degree_in(chord, degree):
    """The seventh chords' own names: a minor third is b3."""
    return "b3" if chord.startswith("Dm") and degree == "3" else degree


def compare(what, truth, said):
    if len(truth) != len(said):
        failures.append(f"{what}: {len(truth)} changes, {len(said)} said")
    for (name, wanted), change in zip(truth, said):
        found = {key: change[key] for key in wanted}
        if found != wanted:
            failures.append(f"{what}, '{name}': {wanted}, but {found}")


def take(folder, what, form, mode, names, seed, tempi=((0, 500_000),)):
    """A take of each situation at least twice, in whole choruses."""
    table = {**SITUATIONS, **(GHOST if mode == "strings" else {})}
    choice = random.Random(seed)
    order = names * 2
    choice.shuffle(order)
    while len(order) % len(form.changes):
        order.append("nothing")
    situations, truth = [], []
    for index, name in enumerate(order):
        chorus, place = divmod(index, len(form.changes))
        bar, beat, chord, quarters = form.changes[place]
        at = chorus * form.quarters + quarters
        if at == 0:  # nothing can be played before a file begins
            name = "nothing" if any(one == PEDAL or one["at"] < 0 or any(ms < 0 for ms, _ in one["bends"])
                                    for one in table[name][0]) else name
        played, verdict, degree, approach = table[name]
        root = ROOTS[chord]
        if chord.startswith("Dm"):  # its third lies lower: so does all that leans on it
            played = [one if one == PEDAL else {**one, "over": one["over"] - (one["over"] in (3, 4, 16))} for one in played]
            if name in MAJOR_ONLY:
                played, verdict, degree, approach = table["off"]
                name = "off"
        situations.append((at, root, [*played, APART]))
        wanted = {"chorus": chorus + 1, "bar": bar, "beat": beat, "chord": chord, "verdict": verdict,
                  "degree": degree_in(chord, degree) if degree else None}
        if approach:
            wanted["approach"] = approach
        truth.append((name, wanted))
    path = os.path.join(folder, "take.mid")
    write(path, form, situations, mode, tempi)
    compare(f"{what} ({mode})", truth, review(path, form, mode)["changes"])
    return len(truth)


# With a minor third these are something else.
MAJOR_ONLY = {name for name, (played, *_) in SITUATIONS.items()
              if name.startswith(("leaning", "by ", "enclosed", "grace", "bent", "pre-bent", "late", "a whole step",
                                  "a little", "vibrato"))}


def main():
    try:
        import mido  # noqa: F401
    except ImportError:
        print("skipped: python3-mido is not installed")
        return 0
    judged = 0
    with tempfile.TemporaryDirectory() as folder:
        for what, form in FORMS.items():
            for mode in ("one", "strings", "mpe"):
                names = list(SITUATIONS) + (list(GHOST) if mode == "strings" else [])
                for seed in range(4):
                    judged += take(folder, what, form, mode, names, seed)
        for what, (text, quarters, changes) in SONGS.items():
            path = os.path.join(folder, what.replace(" ", "-") + ".song")
            with open(path, "w", encoding="utf-8") as file:
                file.write(text)
            form = Form(path, quarters, changes)
            for mode in ("one", "strings", "mpe"):
                judged += take(folder, what, form, mode, list(SITUATIONS), 5)
        form = FORMS["a bar each"]
        for mode in ("one", "strings", "mpe"):
            tempi = [(0, 500_000), (14, 400_000), (30, 600_000), (46, 450_000)]
            judged += take(folder, "the tempo changes", form, mode, STEADY * 2, 11, tempi)
    for line in failures[:20]:
        print("FAILED:", line)
    print(f"{judged} changes with known truth, {len(failures)} differ")
    return 1 if failures else 0


sys.exit(main())
