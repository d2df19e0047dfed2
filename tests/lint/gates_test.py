#!/usr/bin/env python3
"""Shows that each gate finds what it is for, and lets the clean case through."""

import pathlib
import tempfile
import unittest

import gates

CLEAN = {
    "CMakeLists.txt": "add_library(t src/theory/note.cpp)\n",
    "README.md": "# Landfall\n\n    ./src/start\n    ./tests/check\n",
    "src/theory/note.hpp": '#pragma once\n#include <vector>\n#include "time/ticks.hpp"\n',
    "src/theory/note.cpp": '#include "theory/note.hpp"\n',
    "src/time/ticks.hpp": "#pragma once\n",
}

# gate -> the cases it must find: (files laid over the clean tree)
CASES = {
    gates.arrows: [
        {"src/theory/note.cpp": '#include "song/form.hpp"\n', "src/song/form.hpp": "#pragma once\n"},
        {"src/band/bass.hpp": '#pragma once\n#include "ear/judge.hpp"\n', "src/ear/judge.hpp": "#pragma once\n"},
        {"midi/plan.hpp": '#pragma once\n#include "theory/note.hpp"\n'},
        {"render/frame.hpp": '#pragma once\n#include "midi/plan.hpp"\n', "midi/plan.hpp": "#pragma once\n"},
        {"src/theory/note.cpp": '#include "theory/absent.hpp"\n'},
        {"src/theory/note.cpp": '#include "note.hpp"\n'},
        {"src/other/new.hpp": '#pragma once\n#include "time/ticks.hpp"\n'},
    ],
    gates.system_libraries: [
        {"src/theory/note.cpp": "#include <SDL2/SDL.h>\n"},
        {"src/app/main.cpp": "#include <SDL.h>\n"},
        {"render/window.cpp": "#include <rtmidi/RtMidi.h>\n"},
        {"src/app/main.cpp": "#include <fluidsynth.h>\n"},
    ],
    gates.pure_core: [
        {"src/song/form.cpp": "#include <fstream>\n"},
        {"src/song/form.cpp": "#include <filesystem>\n"},
        {"src/ear/judge.cpp": "auto t = std::chrono::steady_clock::now();\n"},
        {"src/ear/judge.cpp": "clock_gettime(CLOCK_MONOTONIC, &t);\n"},
    ],
    gates.top_level: [{"notes.txt": "x\n"}, {"docs/design.md": "x\n"}],
    gates.machine_paths: [
        {"README.md": "cd /" + "work/main\n"},
        {"tests/real/run.py": "open('/home/someone/x')\n"},
        {"DEVELOPERS.md": "C:\\Users\\someone\n"},
    ],
    gates.size: [{"src/theory/note.cpp": "int a;\n" * 451}],
    gates.finished: [{"src/theory/note.cpp": "// TODO later\n"}],
    gates.header_guards: [{"src/time/ticks.hpp": "int a;\n"}],
    gates.built: [{"src/theory/chord.cpp": "int a;\n"}],
    gates.two_commands: [
        {"README.md": "# Landfall\n    ./src/start\n"},
        {"README.md": "\n" * 30 + "./src/start ./tests/check\n"},
    ],
    gates.pictures: [{f"tests/golden/{n}.png": "" for n in range(21)}],
}


def problems(gate, overlay):
    with tempfile.TemporaryDirectory() as top:
        for name, text in {**CLEAN, **overlay}.items():
            path = pathlib.Path(top) / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text)
        return list(gate(gates.Tree(top)))


class Gates(unittest.TestCase):
    def test_clean_tree_passes_every_gate(self):
        for gate in gates.GATES:
            with self.subTest(gate=gate.__name__):
                self.assertEqual(problems(gate, {}), [])

    def test_every_gate_has_a_case_that_fails(self):
        self.assertEqual(set(CASES), set(gates.GATES))

    def test_each_case_is_found(self):
        for gate, cases in CASES.items():
            for overlay in cases:
                with self.subTest(gate=gate.__name__, files=list(overlay)[:2]):
                    self.assertTrue(problems(gate, overlay))

    def test_the_limit_itself_is_allowed(self):
        self.assertEqual(problems(gates.size, {"src/theory/note.cpp": "int a;\n" * 450}), [])

    def test_words_in_a_comment_are_not_a_clock(self):
        self.assertEqual(problems(gates.pure_core, {"src/ear/judge.cpp": "// no steady_clock::now() here\n"}), [])


if __name__ == "__main__":
    unittest.main()
