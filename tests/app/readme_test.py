#!/usr/bin/env python3
"""Holds README.md against the program: its table of keys, its examples, its sample files.

Usage: readme_test.py keys TREE | examples TREE PROGRAM  [--write]
With --write the README's tables and outputs are brought up to date instead; look at them before
committing. Exit 0: it is true; 1: it is not, and standard output says where.
"""

import difflib
import os
import pathlib
import re
import subprocess
import sys
import tempfile

ROW = re.compile(r'ActionRow\{\s*\w+,\s*(\w+),\s*"[^"]+",\s*"([^"]+)",\s*"((?:[^"\\]|\\.)+)"(?:,\s*"([^"]+)")?\s*\}')
TABLE = re.compile(r"(<!-- keys -->\n).*?(<!-- end of keys -->)", re.S)
CONSOLE = re.compile(r"(```console\n)(.*?)(```)", re.S)
SAMPLE = re.compile(r"```(song|feel|instrument)\n(.*?)```", re.S)


def key_table(source):
    """The action table of actions.cpp as Markdown, in its order and words."""
    titles = dict(re.findall(r'(\w+) = "([^"]+)"', source))
    rows = ROW.findall(source)
    assert rows and len(rows) == source.count("ActionRow{"), "actions.cpp has rows that this test cannot read"
    lines, section = [], None
    for variable, words, key, other in rows:
        if variable != section:
            lines += ["", f"**{titles[variable]}**", "", "| key | does |", "| --- | --- |"]
            section = variable
        keys = " or ".join(f"`{k}`" for k in (re.sub(r'\\(.)', r'\1', key), other) if k)
        lines.append(f"| {keys} | {words} |")
    return "\n".join(lines[1:]) + "\n"


def with_keys(readme, tree, _program):
    assert TABLE.search(readme), "README.md has no table of keys between its marks"
    table = key_table((tree / "src/app/actions.cpp").read_text(encoding="utf-8"))
    return TABLE.sub(lambda found: f"{found[1]}\n{table}\n{found[2]}", readme)


def output_of(command, program, tree):
    """What a player sees: both streams, in a home where nothing is yet."""
    with tempfile.TemporaryDirectory() as folder:
        os.symlink(program, f"{folder}/landfall")
        environment = {k: v for k, v in os.environ.items() if not k.startswith(("XDG_", "JACK_"))}
        environment |= {"HOME": folder, "LANDFALL_DATA": str(tree), "PATH": f"{folder}:{environment['PATH']}"}
        done = subprocess.run(
            ["bash", "-c", command], cwd=folder, env=environment, timeout=60, stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE, stderr=subprocess.STDOUT, encoding="utf-8")
    return done.stdout


def rerun(block, program, tree):
    """A console block with its outputs made anew. Where `...` ends one, as many lines are kept."""
    lines = []
    for part in re.split(r"^(?=\$ )", block, flags=re.M):
        if not part.startswith("$ "):
            continue
        command, *shown = part.rstrip("\n").split("\n")
        fresh = output_of(command[2:], program, tree).rstrip("\n").split("\n")
        if shown and shown[-1] == "...":
            fresh = fresh[: len(shown) - 1] + ["..."]
        lines += [command] + [line.rstrip() for line in fresh if line or len(fresh) > 1]
    return "\n".join(lines) + "\n"


def with_outputs(readme, tree, program):
    assert CONSOLE.search(readme), "README.md has no examples"
    return CONSOLE.sub(lambda found: found[1] + rerun(found[2], program, tree) + found[3], readme)


def bad_samples(readme, program):
    """What `check` has to say about the files that the README shows."""
    samples = SAMPLE.findall(readme)
    assert samples, "README.md shows no files"
    for number, (kind, text) in enumerate(samples, 1):
        with tempfile.TemporaryDirectory() as folder:
            path = pathlib.Path(folder, f"sample-{number}.{kind}")
            path.write_text(text, encoding="utf-8")
            done = subprocess.run([program, "check", str(path)], capture_output=True, encoding="utf-8")
            said = done.stdout + done.stderr
            if done.returncode != 0 or said:
                yield f"README.md, sample {number}: {said or done.returncode}"


def main(arguments):
    write = "--write" in arguments
    what, tree, *rest = [a for a in arguments if a != "--write"]
    tree = pathlib.Path(tree).resolve()
    program = str(pathlib.Path(rest[0]).resolve()) if rest else None
    path = tree / "README.md"
    readme = path.read_text(encoding="utf-8")
    fresh = {"keys": with_keys, "examples": with_outputs}[what](readme, tree, program)
    problems = list(bad_samples(readme, program)) if what == "examples" else []
    if write:
        path.write_text(fresh, encoding="utf-8")
    else:
        problems += difflib.unified_diff(readme.splitlines(), fresh.splitlines(), "README.md", "the program", "", "", 1, "")
    print("\n".join(problems) if problems else "README.md is true")
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
