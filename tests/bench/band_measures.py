#!/usr/bin/env python3
"""What the band does in each feel, counted in exported MIDI files: prints JSON, or with `table` the
table of DEVELOPERS.md.

    band_measures.py PROGRAM FEELS_FOLDER [table]
"""
import json
import pathlib
import statistics
import subprocess
import sys
import tempfile

import mido

PROGRESSION = "A7 | D7 | A7 | E7"
CHORUSES = 6
BARS = 4 * CHORUSES


def export(program, feel, folder):
    path = pathlib.Path(folder) / (feel + ".mid")
    subprocess.run([program, "export", PROGRESSION, "--feel", feel, "--choruses", str(CHORUSES),
                    "-o", str(path)], check=True)
    return mido.MidiFile(path)


def onsets(track):
    """Ticks and velocities of a track's notes."""
    now, found = 0, []
    for message in track:
        now += message.time
        if message.type == "note_on" and message.velocity > 0:
            found.append((now, message.velocity))
    return found


def swing(notes, beat):
    """Where the notes around the middle of a beat fall, in shares of it: 0.5 straight, 0.67 triplets."""
    middles = [tick % beat / beat for tick, _ in notes if 0.42 < tick % beat / beat < 0.72]
    return round(statistics.median(middles), 2) if middles else None


def measures(midi):
    result = {}
    for track in midi.tracks:
        notes = onsets(track)
        if notes:
            velocities = [velocity for _, velocity in notes]
            result[track.name] = {
                "notes_a_bar": round(len(notes) / BARS, 1),
                "moments_a_bar": round(len({tick for tick, _ in notes}) / BARS, 1),
                "swing": swing(notes, midi.ticks_per_beat),
                "velocity": [min(velocities), round(statistics.mean(velocities)), max(velocities)],
            }
    return result


def table(all_measures):
    print("| feel | drums: notes a bar, velocities | bass | comping: moments a bar, velocities | middle of the beat |")
    print("| --- | --- | --- | --- | --- |")
    for feel, parts in all_measures.items():
        def cell(part, key):
            if part not in parts:
                return ""
            low, mean, high = parts[part]["velocity"]
            return f"{parts[part][key]}, {low} {mean} {high}"
        middle = next((parts[p]["swing"] for p in ("drums", "comping", "bass")
                       if p in parts and parts[p]["swing"]), "")
        print(f"| {feel} | {cell('drums', 'notes_a_bar')} | {cell('bass', 'notes_a_bar')} "
              f"| {cell('comping', 'moments_a_bar')} | {middle} |")


def main():
    program, feels = sys.argv[1:3]
    names = sorted(path.stem for path in pathlib.Path(feels).glob("*.feel"))
    with tempfile.TemporaryDirectory() as folder:
        all_measures = {name: measures(export(program, name, folder)) for name in names}
    table(all_measures) if "table" in sys.argv[3:] else print(json.dumps(all_measures))


main()
