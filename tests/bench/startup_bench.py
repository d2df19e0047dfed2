#!/usr/bin/env python3
"""How long the program takes from its start to its first frame and to its first sound.

Measured from outside and printed as one line of JSON, medians in milliseconds: to the first pixels
of its window on an Xvfb screen, and to the first note that an independent client of a JACK server
gets from `landfall play`. Beside them the same for programs that do nothing else: a bare SDL
window, a bare JACK client that sends one note, and `true`. What is not installed is null.

usage: startup_bench.py LANDFALL SOURCE [BARE_WINDOW BARE_NOTE FIRST_NOTE]
"""

import json
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time

RUNS = 5


def environment(folder, source, **more):
    env = dict(os.environ, HOME=folder, XDG_CONFIG_HOME=folder + "/config",
               XDG_DATA_HOME=folder + "/data", LANDFALL_DATA=source, JACK_NO_START_SERVER="1")
    for name in ("XDG_RUNTIME_DIR", "PULSE_SERVER"):
        env.pop(name, None)
    env.update(more)
    return env


def end(process):
    if process.poll() is None:
        process.terminate()
    try:
        process.wait(10)
    except subprocess.TimeoutExpired:
        process.kill()
        process.wait()


def median_ms(measure):
    times = [measure() for _ in range(RUNS)]
    return None if None in times else round(statistics.median(times) * 1000, 1)


def time_of_true():
    start = time.monotonic()
    subprocess.run(["true"], check=True)
    return time.monotonic() - start


class Screen:
    """Xvfb with its pixels in a file, so that looking at them costs nothing."""

    def __init__(self, folder):
        self.folder = tempfile.mkdtemp(dir=folder)
        read, write = os.pipe()
        self.server = subprocess.Popen(
            ["Xvfb", "-displayfd", str(write), "-screen", "0", "1280x720x24", "-nolisten", "tcp",
             "-noreset", "-fbdir", self.folder], pass_fds=(write,), stderr=subprocess.DEVNULL)
        os.close(write)
        with os.fdopen(read) as answer:
            self.display = ":" + answer.readline().strip()
        self.pixels = open(self.folder + "/Xvfb_screen0", "rb")
        self.size = os.path.getsize(self.folder + "/Xvfb_screen0")

    def is_dark(self):
        """Looks at rows in all parts of the screen."""
        for part in range(1, 16):
            self.pixels.seek(self.size * part // 16)
            if any(self.pixels.read(4096)):
                return False
        return True

    def time_to_pixels(self, command, env):
        deadline = time.monotonic() + 10
        while not self.is_dark() and time.monotonic() < deadline:
            time.sleep(0.05)  # the window of the run before
        start = time.monotonic()
        process = subprocess.Popen(command, env=dict(env, DISPLAY=self.display,
                                                     SDL_VIDEODRIVER="x11"),
                                   stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        while self.is_dark() and time.monotonic() < start + 10:
            time.sleep(0.001)
        taken = time.monotonic() - start
        seen = not self.is_dark()
        end(process)
        return taken if seen else None


def first_frames(landfall, source, bare, folder):
    if shutil.which("Xvfb") is None:
        return None, None
    screen = Screen(folder)
    env = environment(folder, source, JACK_DEFAULT_SERVER="landfall-no-such-server")
    try:
        ours = median_ms(lambda: screen.time_to_pixels([landfall], env))
        theirs = median_ms(lambda: screen.time_to_pixels([bare], env)) if bare else None
    finally:
        end(screen.server)
    return ours, theirs


def time_to_note(command, listener, env):
    """FIRST_NOTE prints a line when its port is open, and another at the first note that comes."""
    ears = subprocess.Popen([listener], env=env, stdout=subprocess.PIPE, text=True)
    ears.stdout.readline()
    start = time.monotonic()
    process = subprocess.Popen(command, env=env, stdout=subprocess.DEVNULL,
                               stderr=subprocess.DEVNULL)
    heard = ears.stdout.readline().startswith("note")
    taken = time.monotonic() - start
    end(process)
    end(ears)
    return taken if heard else None


def first_notes(landfall, source, bare, listener, folder):
    if listener is None or shutil.which("jackd") is None:
        return None, None
    name = "landfall-bench-%d" % os.getpid()
    env = environment(folder, source, JACK_DEFAULT_SERVER=name)
    server = subprocess.Popen(["jackd", "-n", name, "-r", "-d", "dummy", "-r", "48000", "-p", "64"],
                              stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    time.sleep(1)
    play = [landfall, "play", "A | D", "--out", "first-note", "--in", "none", "--count-in", "1"]
    try:
        ours = median_ms(lambda: time_to_note(play, listener, env))
        theirs = median_ms(lambda: time_to_note([bare], listener, env)) if bare else None
    finally:
        end(server)
    return ours, theirs


def main():
    landfall, source, *bare = sys.argv[1:]
    window, note, listener = bare if len(bare) == 3 else (None, None, None)
    with tempfile.TemporaryDirectory() as folder:
        frame, bare_frame = first_frames(landfall, source, window, folder)
        sound, bare_sound = first_notes(landfall, source, note, listener, folder)
    print(json.dumps({"first_frame_ms": frame, "first_note_ms": sound,
                      "bare": {"window_first_frame_ms": bare_frame, "first_note_ms": bare_sound,
                               "true_ms": median_ms(time_of_true)}}))


if __name__ == "__main__":
    main()
