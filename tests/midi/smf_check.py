#!/usr/bin/env python3
"""Prints a MIDI file as an independent reader sees it: one line for each event, in ticks."""
import sys

import mido

file = mido.MidiFile(sys.argv[1])
print("type", file.type, "division", file.ticks_per_beat, "tracks", len(file.tracks))
for number, track in enumerate(file.tracks):
    time = 0
    for message in track:
        time += message.time
        fields = {k: v for k, v in message.dict().items() if k not in ("time", "type")}
        print(number, time, message.type, *(f"{k}={fields[k]}" for k in sorted(fields)))
