#!/usr/bin/env python3
"""Exported files as independent readers see them: python3-mido, lilypond's midi2ly and musicxml2ly,
wave.

usage: exports_test.py LANDFALL SOURCE_FOLDER [table]

MIDI files are read without a complaint, are as long as their choruses to the tick, and the same
seed gives the same bytes. As sound, each feel is there, does not clip and lies within 3 dB of the
others. `table` prints the loudness of each feel instead of testing it.
"""
import array
import math
import os
import shutil
import subprocess
import sys
import tempfile
import wave

PROGRAM, SOURCE = sys.argv[1], sys.argv[2]
FEELS = sorted(name[:-5] for name in os.listdir(os.path.join(SOURCE, "songs", "feels"))
               if name.endswith(".feel"))
SONGS = ["slipway-at-six", "round-the-roundabout", "the-fifth-step-is-missing", "two-harbours",
         "lemons-by-the-crate"]
TEST_PROGRESSION = "A | D | E | A | F#m | D | E | A"
failures = []


def check(holds, what):
    if not holds:
        failures.append(what)
        print("FAILED:", what)


def export(folder, name, *arguments):
    path = os.path.join(folder, name)
    done = subprocess.run([PROGRAM, "export", *arguments, "-o", path], capture_output=True, text=True,
                          env={**os.environ, "LC_ALL": "C.UTF-8"})
    check(done.returncode == 0, f"export {arguments}: {done.stderr.strip()}")
    return path


def length_and_faults(mido, path):
    """The file's end in ticks, and what is wrong in it."""
    file = mido.MidiFile(path, clip=False)
    ends, faults = set(), []
    for track in file.tracks:
        time, sounding = 0, set()
        for message in track:
            time += message.time
            if message.type not in ("note_on", "note_off"):
                continue
            begins = message.type == "note_on" and message.velocity > 0
            if begins == (message.note in sounding):
                faults.append(f"{track.name}: note {message.note} at {time}")
            (sounding.add if begins else sounding.discard)(message.note)
            if (track.name == "drums") != (message.channel == 9):
                faults.append(f"{track.name} on channel {message.channel + 1}")
        if sounding:
            faults.append(f"{track.name}: {len(sounding)} notes without an end")
        ends.add(time)
    if len(ends) != 1:
        faults.append(f"tracks end at {sorted(ends)}")
    return max(ends), faults


def test_midi(folder):
    try:
        import mido
    except ImportError:
        mido = None
        print("skipped: no python3 with mido")
    cases = [(song, []) for song in SONGS]
    cases += [(TEST_PROGRESSION, ["--feel", feel, "--seed", "7"]) for feel in FEELS]
    for number, (song, options) in enumerate(cases):
        one = export(folder, f"{number}.mid", song, *options)
        if mido:
            length, faults = length_and_faults(mido, one)
            three, more = length_and_faults(
                mido, export(folder, "three.mid", song, *options, "--choruses", "3"))
            check(not faults + more, f"{song} {options}: {(faults + more)[:3]}")
            check(three == 3 * length, f"{song} {options}: {three} is not 3 x {length}")
        again = export(folder, "again.mid", song, *options)
        check(open(one, "rb").read() == open(again, "rb").read(), f"{song}: other bytes")
    if not shutil.which("midi2ly"):
        print("skipped: no midi2ly")
        return
    for number, (song, options) in enumerate(cases):
        done = subprocess.run(["midi2ly", "-o", os.path.join(folder, "out.ly"),
                               os.path.join(folder, f"{number}.mid")], capture_output=True, text=True)
        said = (done.stdout + done.stderr).lower()
        check(done.returncode == 0 and "warning" not in said and "error" not in said,
              f"midi2ly on {song} {options}: {said[-300:]}")


def test_scores(folder):
    if not shutil.which("musicxml2ly"):
        print("skipped: no musicxml2ly")
        return
    phrases = sorted(name[:-7] for name in os.listdir(os.path.join(SOURCE, "songs", "phrases"))
                     if name.endswith(".phrase"))
    cases = [["export", song] for song in SONGS] + [["phrase", name] for name in phrases]
    for number, case in enumerate(cases):
        score = os.path.join(folder, f"{number}.musicxml")
        subprocess.run([PROGRAM, *case, "-o", score], check=True)
        done = subprocess.run(["musicxml2ly", "-o", os.path.join(folder, "out.ly"), score],
                              capture_output=True, text=True)
        said = (done.stdout + done.stderr).lower()
        check(done.returncode == 0 and "warning" not in said and "error" not in said,
              f"musicxml2ly on {case}: {said[-300:]}")


def decibels(path):
    """Loudness (root of the mean square, of the loudest half of the tenths of a second) and peak."""
    with wave.open(path) as sound:
        samples = array.array("h", sound.readframes(sound.getnframes()))
        step = sound.getframerate() // 10 * 2
    squares = sorted(sum(x * x for x in samples[i:i + step:4]) * 4 / step
                     for i in range(0, len(samples) - step, step))
    loud = squares[len(squares) // 2:]
    mean = sum(loud) / max(len(loud), 1)
    peak = max(max(samples), -min(samples)) / 32768
    return 10 * math.log10(mean / 32768 ** 2) if mean else -200.0, peak


def test_sound(folder, as_table):
    levels = {}
    for feel in FEELS:
        path = os.path.join(folder, "feel.wav")
        done = subprocess.run([PROGRAM, "export", TEST_PROGRESSION, "--feel", feel, "-o", path],
                              capture_output=True, text=True)
        if "no synth" in done.stderr or "no sound font" in done.stderr:
            print("skipped:", done.stderr.strip())
            return
        check(done.returncode == 0, f"{feel}: {done.stderr.strip()}")
        level, peak = decibels(path)
        levels[feel] = level
        if as_table:
            print(f"{feel:20} {level:6.1f} dB, peak {peak:.2f}", flush=True)
            continue
        check(level > -60, f"{feel} is silent")
        check(peak < 0.999, f"{feel} clips")
    spread = max(levels.values()) - min(levels.values())
    if as_table:
        print(f"spread {spread:.1f} dB")
    else:
        check(spread <= 3.0, f"loudness differs by {spread:.1f} dB: "
                             + ", ".join(f"{f} {l:.1f}" for f, l in sorted(levels.items())))


with tempfile.TemporaryDirectory() as scratch:
    if sys.argv[3:] == ["table"]:
        test_sound(scratch, True)
    else:
        test_midi(scratch)
        test_scores(scratch)
        if sys.argv[3:] != ["midi"]:
            test_sound(scratch, False)
sys.exit(1 if failures else 0)
