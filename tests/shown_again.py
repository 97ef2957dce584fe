#!/usr/bin/env python3
"""Writes the output of each command in a block marked `console` of README and docs anew.

  python3 tests/shown_again.py PROGRAM [DOCUMENT...]

A command that fails stops it, and nothing is written. tests/cli/test_readme.cpp compares; read
the difference before it is committed.
"""

import pathlib
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parents[1]


def output_of(program, command):
    script = f"eggfall() {{ '{program}' \"$@\"; }} && {command}"
    done = subprocess.run(["sh", "-c", script], cwd=ROOT, capture_output=True, text=True,
                          stdin=subprocess.DEVNULL)
    if done.returncode != 0:
        raise SystemExit(f"{command}\n{done.stderr}")
    return done.stdout


def shown_again(program, text):
    lines = []
    inside = False
    for line in text.splitlines(keepends=True):
        if line.startswith("```"):
            inside = line.rstrip("\n") == "```console"
        if inside and line.startswith("$ "):
            lines.append(line)
            lines.append(output_of(program, line[2:].rstrip("\n")))
        elif not inside or line.startswith("```"):
            lines.append(line)
    return "".join(lines)


def main(program, *documents):
    program = str(pathlib.Path(program).resolve())
    paths = [ROOT / name for name in documents] or [ROOT / "README.md", *sorted(ROOT.glob("docs/*.md"))]
    changed = {path: shown_again(program, path.read_text()) for path in paths}
    for path, text in changed.items():
        path.write_text(text)


if __name__ == "__main__":
    main(*sys.argv[1:])
