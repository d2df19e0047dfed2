#!/usr/bin/env python3
"""How long a key takes to be heard from the built-in synth, and what that costs in xruns.

`landfall play` runs on a jackd of its own, with a silent band. An independent client presses keys
at random times, and listens to what comes out: from the moment of the press, through the wait for
the server's next period, the program's thread and its synth, to the moment at which the server
plays the frame. `port_to_sound` is the program's own share. Meanwhile a bare client runs on a
server of their own. Printed as one line of JSON; xruns as the servers saw them, by who came too late.

A server with more clients has more to wait for. Ours has three in a row, each waiting for the one
before: sound, the independent client, MIDI in. The bare one has as many as --bare-clients says, in a
row too; who waits for others is late with them, so that a place is to be compared with the same.

usage: latency_bench.py LANDFALL SOURCE RIG [--minutes M] [--period FRAMES] [--bare-clients N]
"""

import argparse
import json
import os
import signal
import subprocess
import tempfile
import time

from jack_servers import JackServer, end

STILL = """name: still
drums:
  kick | .... |
bass:
  line | - - - - |
comping:
  chords | .... |
count-in:
  kick | .... |
"""


def environment(folder, source):
    env = dict(os.environ, HOME=folder, XDG_CONFIG_HOME=folder + "/config",
               XDG_DATA_HOME=folder + "/data", LANDFALL_DATA=source)
    for name in ("XDG_RUNTIME_DIR", "PULSE_SERVER"):
        env.pop(name, None)
    return env


def start_rig(rig, kind, seconds, env, number=0):
    before = [f"latency-{kind}{number - 1}"] if number else []
    process = subprocess.Popen([rig, kind, f"latency-{kind}{number}", str(seconds), *before],
                               env=env, stdout=subprocess.PIPE, text=True)
    process.stdout.readline()
    return process


def answer(process, seconds):
    out, _ = process.communicate(timeout=seconds + 60)
    lines = out.strip().splitlines()
    return json.loads(lines[-1]) if lines else None


def by_place(late):
    """Periods in which anybody came too late, the server itself, and each client in its place."""
    clients = {name: n for name, n in late.items() if name not in ("periods", "driver")}
    return {"periods": late["periods"], "driver": late["driver"],
            "clients": dict(sorted(clients.items(), key=lambda entry: entry[1]))}


class Stand:
    """`landfall play` at one setting on a server of its own, with somebody at the keys."""

    def __init__(self, arguments, latency, env):
        self.server = JackServer(latency, arguments.period)
        env = dict(env, **self.server.environment)
        self.keys = start_rig(arguments.rig, "keys", arguments.minutes * 60, env)
        self.play = subprocess.Popen(
            [arguments.landfall, "play", "N.C. | N.C.", "--feel", "still", "--out", "synth",
             "--in", "latency-keys", "--timing", "--latency", latency],
            env=env, stdout=subprocess.PIPE, text=True)

    def result(self, seconds, before):
        result = answer(self.keys, seconds) or {}
        late = self.server.xruns() - before
        self.play.send_signal(signal.SIGTERM)
        out, _ = self.play.communicate(timeout=20)
        counted = json.loads(out.strip().splitlines()[-1]).get("xruns")
        result["xruns"] = dict(by_place(late), counted_by_landfall=counted)
        result["realtime"] = self.server.realtime
        return result

    def end(self):
        end(self.play)
        self.server.end()


def measure(arguments, env):
    """Both settings and the bare clients at once: whatever disturbs the machine disturbs all."""
    seconds = arguments.minutes * 60
    stands = {latency: Stand(arguments, latency, env) for latency in ("usual", "low")}
    bare = JackServer("bare", arguments.period)
    try:
        idle = [start_rig(arguments.rig, "bare", seconds, dict(env, **bare.environment), number)
                for number in range(arguments.bare_clients)]
        time.sleep(2)  # what comes and goes is no steady state
        before = {latency: stand.server.xruns() for latency, stand in stands.items()}
        bare_before = bare.xruns()
        results = {latency: stand.result(seconds, before[latency])
                   for latency, stand in stands.items()}
        bare_late = bare.xruns() - bare_before
        for each in idle:
            answer(each, seconds)
        results["bare"] = {"clients": arguments.bare_clients, "xruns": by_place(bare_late)}
        return results
    finally:
        for stand in stands.values():
            stand.end()
        bare.end()


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("landfall")
    parser.add_argument("source")
    parser.add_argument("rig")
    parser.add_argument("--minutes", type=float, default=0.5)
    parser.add_argument("--period", type=int, default=64, help="of the sound server, in frames")
    parser.add_argument("--bare-clients", type=int, default=3)
    arguments = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        env = environment(folder, arguments.source)
        feels = folder + "/data/landfall/feels"
        os.makedirs(feels)
        with open(feels + "/still.feel", "w", encoding="utf-8") as file:
            file.write(STILL)
        results = measure(arguments, env)
    print(json.dumps(dict(period=arguments.period, minutes=arguments.minutes, **results)))


if __name__ == "__main__":
    main()
