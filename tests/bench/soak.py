#!/usr/bin/env python3
"""Plays for a long time, as on a stage, and looks whether anything wears out.

On a jackd of its own: the window under Xvfb with the built-in synth, its keys pressed by xdotool, and
`landfall play`, whose band comes to an independent client. That client also plays notes into both,
and moves controls bound to tempo, levels, mutes, panic and start. A bare client runs on a second
server. At the end one JSON document: what was sent and how late, notes that hang, memory, threads
and open files at the start, in the middle and at the end, and xruns as the servers saw them.

Needs jackd, Xvfb, xdotool and a Python with rtmidi (Debian's: /usr/bin/python3).

usage: soak.py PROGRAM [SOURCE] [--minutes M]
"""

import argparse
import collections
import json
import os
import random
import signal
import subprocess
import sys
import tempfile
import threading
import time

try:
    import rtmidi
except ImportError:
    sys.exit("this Python has no rtmidi; try /usr/bin/python3")

from jack_servers import JackServer, end

CONTROLS = """device: soak
controller 70 absolute: tempo
controller 72 absolute: bass-level
controller 80: panic
controller 81: from-the-top
controller 82: mute-drums
controller 83: mute-bass
controller 84: mute-comping
"""
KEYS = ["bracketright", "bracketleft", "k", "K", "f", "F", "e", "E", "n", "o", "plus", "minus", "1", "1",
        "2", "2", "b", "v", "q", "t", "l", "BackSpace", "Return", "question", "Escape"]
# libjack knows one server in a process.
BARE = """import rtmidi, time
port = rtmidi.MidiIn(rtmidi.API_UNIX_JACK, name="bare")
port.open_virtual_port("bare")
time.sleep(1e6)"""
SONG = "A7 | D7 | A7 | A7 | D7 | D7 | A7 | F#7 | Bm7 | E7 | A7 F#7 | Bm7 E7"


class Listener:
    """Counts what the band sends, by channel and note."""

    def __init__(self):
        self.sounding = collections.Counter()
        self.messages = 0
        self.port = rtmidi.MidiIn(rtmidi.API_UNIX_JACK, name="soak-ears", queue_size_limit=4096)
        self.port.set_callback(self.hear)
        self.port.open_virtual_port("band")

    def hear(self, event, _):
        status, *data = event[0]
        self.messages += 1
        place = (status & 0x0F, data[0])
        if status & 0xF0 == 0x90 and data[1] > 0:
            self.sounding[place] += 1
        elif status & 0xF0 in (0x80, 0x90):
            self.sounding[place] -= 1

    def hanging(self):
        return sorted(place for place, count in self.sounding.items() if count > 0)


class Player:
    """Plays notes and moves controls at random, all the time."""

    def __init__(self, rng):
        self.rng = rng
        self.port = rtmidi.MidiOut(rtmidi.API_UNIX_JACK, name="soak")
        self.port.open_virtual_port("keys")
        self.notes = 0
        self.ending = threading.Event()
        self.thread = threading.Thread(target=self.run)

    def run(self):
        while not self.ending.wait(self.rng.uniform(0.05, 0.4)):
            if self.rng.random() < 0.03:
                self.control()
            note = self.rng.randrange(48, 84)
            self.port.send_message([0x90, note, self.rng.randrange(20, 120)])
            if self.rng.random() < 0.3:
                self.port.send_message([0xE0, 0, self.rng.randrange(128)])
            self.ending.wait(self.rng.uniform(0.02, 0.3))
            self.port.send_message([0x80, note, 0])
            self.notes += 1

    def control(self):
        number = self.rng.choice([70, 70, 72, 80, 81, 82, 83, 84])
        self.port.send_message([0xB0, number, 127 if number >= 80 else self.rng.randrange(128)])
        if number >= 80:
            self.port.send_message([0xB0, number, 0])

    def stop(self):
        self.ending.set()
        self.thread.join()


class Screen:
    def __init__(self):
        read, write = os.pipe()
        self.server = subprocess.Popen(
            ["Xvfb", "-displayfd", str(write), "-screen", "0", "1280x720x24", "-nolisten", "tcp",
             "-noreset"], pass_fds=(write,), stderr=subprocess.DEVNULL)
        os.close(write)
        with os.fdopen(read) as answer:
            self.environment = {"DISPLAY": ":" + answer.readline().strip(),
                                "SDL_VIDEODRIVER": "x11"}

    def tool(self, *words):
        return subprocess.run(["xdotool", *words], env=dict(os.environ, **self.environment),
                              stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True,
                              check=False).stdout

    def focus(self, process):
        for _ in range(100):
            windows = self.tool("search", "--onlyvisible", "--pid", str(process.pid)).split()
            if windows:
                self.tool("windowfocus", "--sync", windows[0])
                return
            time.sleep(0.1)
        sys.exit("no window comes up")


def look_at(process):
    """Memory in KB, threads and open files of a process; None when it has ended."""
    try:
        with open("/proc/%d/status" % process.pid, encoding="ascii") as file:
            status = dict(line.split(":", 1) for line in file)
        return {"rss_kb": int(status["VmRSS"].split()[0]),
                "own_kb": int(status["RssAnon"].split()[0]), "threads": int(status["Threads"]),
                "files": len(os.listdir("/proc/%d/fd" % process.pid))}
    except (OSError, KeyError):
        return None


def environment(folder, source):
    env = dict(os.environ, HOME=folder, XDG_CONFIG_HOME=folder + "/config",
               XDG_DATA_HOME=folder + "/data")
    if source:
        env["LANDFALL_DATA"] = source
    for name in ("XDG_RUNTIME_DIR", "PULSE_SERVER"):
        env.pop(name, None)
    return env


def ended(process):
    """Ends it as a player would; what it printed, and its exit."""
    process.send_signal(signal.SIGTERM)
    try:
        out, _ = process.communicate(timeout=30)
    except subprocess.TimeoutExpired:
        process.kill()
        return "", "killed"
    return out, process.returncode


def soak(arguments, folder, servers, screen):
    rng = random.Random(1)
    bare = subprocess.Popen([sys.executable, "-c", BARE],
                            env=dict(os.environ, **servers[1].environment))
    os.environ.update(servers[0].environment)
    ears, player = Listener(), Player(rng)
    env = dict(environment(folder, arguments.source), **servers[0].environment)
    with open(folder + "/soak.controls", "w", encoding="ascii") as file:
        file.write(CONTROLS)
    programs = {}
    try:
        programs["window"] = subprocess.Popen(
            [arguments.program, SONG, "--out", "synth", "--in", "keys"],
            env=dict(env, **screen.environment), stdout=subprocess.DEVNULL, text=True)
        screen.focus(programs["window"])
        time.sleep(3)
        programs["play"] = subprocess.Popen(
            [arguments.program, "play", SONG, "--out", "soak-ears", "--in", "keys", "--timing",
             "--controls", folder + "/soak.controls"],
            env=env, stdout=subprocess.PIPE, text=True)
        time.sleep(3)
        player.thread.start()
        time.sleep(min(20, arguments.minutes * 12))
        before = [server.xruns() for server in servers]
        seen = [{name: look_at(process) for name, process in programs.items()}]
        start = time.monotonic()
        for part in (0.5, 1.0):
            while time.monotonic() < start + part * arguments.minutes * 60:
                screen.tool("key", rng.choice(KEYS))
                time.sleep(rng.uniform(0.5, 3))
            seen.append({name: look_at(process) for name, process in programs.items()})
        late = [server.xruns() - old for server, old in zip(servers, before)]
        player.stop()
        (_, window_exit), (out, play_exit) = (ended(each) for each in programs.values())
        time.sleep(0.5)
    finally:
        player.ending.set()
        end(bare)
        for process in programs.values():
            end(process)
    timing = json.loads(out.strip().splitlines()[-1]) if out.strip() else {}
    return {"minutes": arguments.minutes, "notes_played": player.notes,
            "messages_heard": ears.messages, "events": timing.get("events"),
            "drops": timing.get("drops"), "p99_us": timing.get("p99_us"),
            "worst_us": timing.get("worst_us"), "hanging": len(ears.hanging()),
            "exit": {"play": play_exit, "window": window_exit},
            "start": seen[0], "middle": seen[1], "end": seen[2],
            "xruns": dict(late[0]), "bare_xruns": dict(late[1])}


def faults(result):
    """What no machine, however busy, excuses."""
    if result["hanging"]:
        yield f"{result['hanging']} notes hang"
    if not result["messages_heard"] or not result["events"]:
        yield "nothing was heard"
    for name, code in result["exit"].items():
        if code != 0:
            yield f"{name} ended with {code}"


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("program")
    parser.add_argument("source", nargs="?", help="where songs, fonts and feels lie")
    parser.add_argument("--minutes", type=float, default=20)
    arguments = parser.parse_args()
    signal.signal(signal.SIGTERM, lambda *_: sys.exit("ended"))
    servers = [JackServer("soak", patient=True), JackServer("soak-bare", patient=True)]
    screen = Screen()
    try:
        with tempfile.TemporaryDirectory() as folder:
            result = soak(arguments, folder, servers, screen)
            print(json.dumps(result, indent=1))
    finally:
        end(screen.server)
        for server in servers:
            server.end()
    found = list(faults(result))
    if found:
        sys.exit("soak: " + "; ".join(found))


if __name__ == "__main__":
    main()
