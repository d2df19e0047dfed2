#!/usr/bin/env python3
"""Mechanical gates over the source tree: what a reviewer should not have to look for.

Each gate is a function that takes a Tree and yields "path:line: what is wrong".
Usage: gates.py FOLDER. Exit 0: clean; 1: something was found, a line each on standard output.
"""

import pathlib
import re
import subprocess
import sys

CORE = ["time", "theory", "neck", "song", "band", "ear", "trade", "practice"]
SPINE = ["time", "theory", "neck", "song"]

# layer -> the layers whose headers it may include
ARROWS = {layer: set(SPINE[: SPINE.index(layer) + 1]) for layer in SPINE}
ARROWS |= {layer: {*SPINE, layer} for layer in ("band", "ear", "trade")}
ARROWS |= {"practice": set(CORE), "midi": {"time", "midi"}, "render": {"render"}}
ARROWS["app"] = {*CORE, "midi", "render", "app"}

# What every layer may include: how an error is returned.
COMMON = {"theory/result.hpp"}

TOP_LEVEL = {"CMakeLists.txt", "README.md", "DEVELOPERS.md", "src", "midi", "render", "songs", "tests", "assets"}

SYSTEM_LIBRARIES = {  # include pattern -> the only layers that may use it
    r"(SDL2/)?SDL\w*\.h": {"render"},
    r"(rtmidi/)?RtMidi\.h": {"midi"},
    r"fluidsynth(/\w+)?\.h": {"midi"},
    r"sqlite3\.h": {"app"},
    r"cairo[\w-]*\.h": {"app"},
}
CORE_BANS = {
    r"#\s*include\s*<(fstream|filesystem|iostream|thread|mutex|ctime)>": "the core neither opens files nor starts threads nor prints",
    r"\b\w*clock\w*::now\s*\(": "the core reads no clock",
    r"\b(clock_gettime|gettimeofday|fopen|getenv|random_device)\b": "the core asks nothing of the machine",
}

CODE = {".cpp", ".hpp", ".py", ".sh", ".cmake"}
MAX_LINES = 450
MAX_PICTURES = 20
MACHINE_PATH = re.compile(r"(?<![\w.])/(work|root)/|/home/\w|/Users/\w|[A-Za-z]:\\\\?Users\\")
UNFINISHED = re.compile(r"\b(TODO|FIXME|XXX)\b")
INCLUDE = re.compile(r'^\s*#\s*include\s*(["<])([^">]+)[">]')


class Tree:
    """The files under version control, by path from the top; outside a repository, all files."""

    def __init__(self, top):
        self.top = pathlib.Path(top)
        listed = subprocess.run(
            ["git", "-C", top, "ls-files", "-z", "--cached", "--others", "--exclude-standard"], capture_output=True
        )
        if listed.returncode == 0:
            names = listed.stdout.decode().split("\0")
        else:
            names = [str(p.relative_to(top)) for p in self.top.rglob("*")]
        self.files = sorted({n for n in names if n and self.is_source(n)})

    def is_source(self, name):
        return (self.top / name).is_file() and not name.startswith((".git/", "build"))

    def text(self, name):
        try:
            return (self.top / name).read_text(encoding="utf-8")
        except UnicodeDecodeError:
            return ""

    def lines(self, name):
        return enumerate(self.text(name).splitlines(), 1)

    def with_suffix(self, *suffixes):
        return [f for f in self.files if pathlib.PurePath(f).suffix in suffixes]


def layer_of(path):
    parts = path.split("/")
    if parts[0] == "src":
        return parts[1] if len(parts) > 2 else None
    return parts[0] if parts[0] in ("midi", "render") else None


def includes(tree):
    for name in tree.with_suffix(".cpp", ".hpp"):
        for number, line in tree.lines(name):
            if found := INCLUDE.match(line):
                yield name, number, found[1], found[2]


def arrows(tree):
    """Includes follow the arrows, from the roots, to files that exist."""
    for name, number, quote, target in includes(tree):
        layer = layer_of(name)
        if layer is None or quote == "<" or target in COMMON:
            continue
        if layer not in ARROWS:
            yield f"{name}:{number}: no such layer as {layer}"
        elif target.split("/")[0] not in ARROWS[layer]:
            yield f"{name}:{number}: {layer} may not include {target}"
        elif target not in tree.files and "src/" + target not in tree.files:
            yield f"{name}:{number}: {target} does not exist; includes start at the roots"


def system_libraries(tree):
    """SDL stays in render, MIDI and the synth in midi."""
    for name, number, _, target in includes(tree):
        layer = layer_of(name)
        for pattern, allowed in SYSTEM_LIBRARIES.items():
            if layer and layer not in allowed and re.fullmatch(pattern, target):
                yield f"{name}:{number}: {layer} may not include {target}"


def pure_core(tree):
    """The core reads no clock and no file."""
    for name in tree.with_suffix(".cpp", ".hpp"):
        if layer_of(name) in CORE:
            for number, line in tree.lines(name):
                for pattern, reason in CORE_BANS.items():
                    if re.search(pattern, line.split("//")[0]):
                        yield f"{name}:{number}: {reason}: {line.strip()}"


def top_level(tree):
    """Nothing else stands at the top level."""
    for entry in sorted({f.split("/")[0] for f in tree.files}):
        if entry not in TOP_LEVEL and not entry.startswith("."):
            yield f"{entry}:1: does not belong at the top level"


def machine_paths(tree):
    """No path of one person's machine."""
    for name in tree.files:
        if not name.startswith("tests/lint/"):
            for number, line in tree.lines(name):
                if found := MACHINE_PATH.search(line):
                    yield f"{name}:{number}: a path of one machine: {found[0]}"


def size(tree):
    """Files hold one idea."""
    for name in tree.with_suffix(*CODE):
        count = sum(1 for _ in tree.lines(name))
        if count > MAX_LINES:
            yield f"{name}:{count}: {count} lines; the limit is {MAX_LINES}"


def finished(tree):
    """Nothing is left for later in comments."""
    for name in tree.with_suffix(*CODE):
        if not name.startswith("tests/lint/"):
            for number, line in tree.lines(name):
                if found := UNFINISHED.search(line):
                    yield f"{name}:{number}: {found[0]}"


def header_guards(tree):
    """Every header opens with #pragma once."""
    for name in tree.with_suffix(".hpp"):
        if "#pragma once" not in tree.text(name):
            yield f"{name}:1: no #pragma once"


def built(tree):
    """Every source file is named in a CMakeLists.txt: nothing lies there unbuilt."""
    named = " ".join(tree.text(f) for f in tree.files if f.endswith("CMakeLists.txt"))
    words = set(re.findall(r"[\w.-]+", named))
    for name in tree.with_suffix(".cpp"):
        path = pathlib.PurePath(name)
        listed = path.stem if path.stem.startswith("fuzz_") else path.name
        if listed not in words:
            yield f"{name}:1: named in no CMakeLists.txt, so never built"


def two_commands(tree):
    """The README opens with the two commands."""
    if "README.md" not in tree.files:
        yield "README.md:1: missing"
        return
    head = "\n".join(tree.text("README.md").splitlines()[:25])
    for command in ("./src/start", "./tests/check"):
        if command not in head:
            yield f"README.md:1: the first 25 lines do not show {command}"


def pictures(tree):
    """Approved pictures are few; the rest is compared as text."""
    found = [f for f in tree.with_suffix(".png") if f.startswith("tests/")]
    if len(found) > MAX_PICTURES:
        yield f"{found[MAX_PICTURES]}:1: {len(found)} pictures; the limit is {MAX_PICTURES}"


GATES = [arrows, system_libraries, pure_core, top_level, machine_paths, size, finished, header_guards, built,
         two_commands, pictures]


def main(arguments):
    if len(arguments) != 1 or not pathlib.Path(arguments[0]).is_dir():
        print("usage: gates.py FOLDER", file=sys.stderr)
        return 2
    tree = Tree(arguments[0])
    found = 0
    for gate in GATES:
        for problem in gate(tree):
            print(f"{problem}  [{gate.__name__}]")
            found += 1
    print(f"{len(tree.files)} files, {len(GATES)} gates, {found} problems")
    return 1 if found or not tree.files else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
