#!/usr/bin/env python3
"""Runs every command on every example by two builds of the program, and shows what they do differently.

  python3 tests/same_output.py OLD NEW [FOLDER]

OLD and NEW are two programs `eggfall`, such as that of an older commit and today's. Each command of
the list below is run by both, in folders of their own; what they print, what they write, byte by byte,
and how they end is compared. FOLDER keeps both sides (by default a temporary one). Exit code 0: the
same everywhere; 1: not, and the first differing line of each is shown. A command that the old program
does not end as the list says is told too: two programs that refuse it alike would compare nothing.
"""

import difflib
import os
import pathlib
import subprocess
import sys
import tempfile
import zipfile

ROOT = pathlib.Path(__file__).resolve().parent.parent
EXAMPLES = ROOT / "examples"
COMMANDS = ["analyse", "plan", "sheet", "factor", "simulate", "audit", "teach", "cutoffs", "survey"]
LESSONS = ["class", "clear-answer", "few-eggs", "no-egg-left", "uneven-flock", "rising-season",
           "lazy-bench", "missed-at-the-gate", "light-doses", "hidden-worm", "not-found-again"]
REFUSED = 2
ANY_END = None

# Worms told on the slide and by larvae, beside an untreated control: no example has these together.
WORMS_WITH_CONTROL = "group,role,class,host,animal,eggs_before,eggs_after,eggs_before:nematodirus," \
    "eggs_after:nematodirus\n" + "".join(
        f"{group},{role},ML,sheep,{tag},{before},{after},{kind_before},{kind_after}\n"
        for group, role, animals in (
            ("clear", "treated", ((1, 59, 6, 22, 1), (2, 132, 7, 2, 0), (3, 47, 5, 14, 9),
                                  (4, 81, 0, 6, 2), (5, 33, 3, 11, 0), (6, 64, 2, 9, 4))),
            ("none", "control", ((7, 55, 48, 9, 12), (8, 71, 90, 4, 3), (9, 38, 30, 15, 11),
                                 (10, 62, 70, 7, 6))))
        for tag, before, after, kind_before, kind_after in animals)
LARVAE_WITH_CONTROL = "group,time,worm,larvae\n" + "".join(
    f"{group},{time},{worm},{larvae}\n"
    for group, time, counts in (("clear", "before", (30, 50, 20)), ("clear", "after", (60, 0, 4)),
                                ("none", "before", (28, 52, 20)), ("none", "after", (35, 45, 20)))
    for worm, larvae in zip(("haemonchus", "teladorsagia", "nematodirus"), counts))

CHAMBER = ["--faeces-g", "3", "--total-ml", "45", "--chambers", "2", "--chamber-ml", "0.5"]


def analyses():
    everything = ["--json", "a.json", "--csv", "a.csv", "--report", "a.html", "--xlsx", "a.xlsx",
                  "--verbose"]
    tables = {
        "brackenhill.csv": [], "combination.csv": [], "doses.csv": ["--host", "sheep"],
        "repeat-counts.csv": ["--host", "sheep"], "pools.csv": ["--host", "sheep"], "region.csv": [],
        "mixed-worms.csv": ["--larvae", EXAMPLES / "mixed-worms-larvae.csv"],
    }
    for table, options in tables.items():
        yield f"analyse {table}", ["analyse", EXAMPLES / table, *options, *everything]
        yield f"analyse {table} on the screen", ["analyse", EXAMPLES / table, *options]
    first = EXAMPLES / "brackenhill.csv"
    for design in ("paired", "two-group", "controlled", "baseline"):
        yield f"analyse by {design}", ["analyse", first, "--design", design, *everything]
        yield (f"analyse larvae by {design}",
               ["analyse", EXAMPLES / "mixed-worms.csv", "--larvae",
                EXAMPLES / "mixed-worms-larvae.csv", "--design", design, *everything])
        yield (f"analyse worms with a control by {design}",
               ["analyse", "../worms.csv", "--factor", "5", "--larvae", "../larvae.csv", "--design",
                design, *everything])
    yield "analyse percentages of larvae", ["analyse", first, "--larvae",
                                            EXAMPLES / "brackenhill-larvae.csv", *everything]
    yield ("analyse worms by the 1992 rule",
           ["analyse", "../worms.csv", "--factor", "5", "--larvae", "../larvae.csv", "--criteria",
            "waavp-1992", *everything])
    for table in ("pilot.csv", "mob.csv"):
        yield (f"analyse {table}, which has no counts after treatment",
               ["analyse", EXAMPLES / table, "--factor", "15"], REFUSED)
    for criteria in ("waavp-1992", "waavp-2023-research", "waavp-2023-clinical"):
        yield f"analyse by {criteria}", ["analyse", first, "--criteria", criteria, *everything]
    yield "analyse by own cut-offs", ["analyse", first, "--cutoffs", EXAMPLES / "own-cut-offs.toml",
                                      *everything]
    yield "analyse horses at another level", ["analyse", first, "--host", "horses", "--level", "95",
                                              "--seed", "7", *everything]
    yield "figures", ["analyse", first, "--figures", "figures"]
    for table in sorted((ROOT / "tests/extremes").glob("*.csv")):
        yield f"analyse the extreme {table.name}", ["analyse", table, "--factor", "15", "--host", "sheep",
                                                    *everything]
    for table in sorted((ROOT / "tests/fuzz/corpus/counts").iterdir()):
        if table.is_file():
            yield f"analyse the kept input {table.name}", ["analyse", table, "--factor", "15", "--host",
                                                           "sheep", "--json", "a.json", "--csv",
                                                           "a.csv", "--simulations", "20"], ANY_END


def others():
    for lesson in LESSONS:
        yield f"simulate {lesson}", ["simulate", "--lesson", lesson, "--counts", "counts.csv",
                                     "--truth", "truth.json", "--trials", "3"]
        yield f"analyse the lesson {lesson}", ["analyse", "../" + folder_of(f"simulate {lesson}") +
                                               "/counts.csv", "--json", "a.json", "--report", "a.html"]
    yield "simulate --list", ["simulate", "--list"]
    yield "hidden larvae", ["simulate", "--lesson", "hidden-worm", "--counts", "counts.csv",
                            "--larvae-table", "larvae.csv"]
    yield "analyse the hidden larvae", ["analyse", "../hidden-larvae/counts.csv", "--larvae",
                                        "../hidden-larvae/larvae.csv", "--json", "a.json"]
    yield "survey", ["survey", EXAMPLES / "region.csv", "--csv", "rows.csv", "--json", "survey.json"]
    for shard in (1, 2):
        yield f"survey shard {shard}", ["survey", EXAMPLES / "region.csv", "--shard", f"{shard}/2",
                                        "--json", "part.json"]
    yield "survey merged", ["survey", "--merge", "../survey-shard-1/part.json",
                            "../survey-shard-2/part.json", "--json", "all.json"]
    yield "survey by two", ["survey", EXAMPLES / "region.csv", "--by", "region,year", "--by", "class"]
    yield "plan", ["plan", "--class", "BZ,ML", "--epg", "600", "--factor", "50:1:5,15:2:9", "--trials",
                   "60", "--json", "p.json", "--csv", "p.csv", "--report", "p.html", "--verbose"]
    yield "plan by a pilot", ["plan", "--pilot", EXAMPLES / "pilot.csv", "--animals", "8,12",
                              "--design", "controlled", "--trials", "40", "--json", "p.json"]
    yield "sheet", ["sheet", EXAMPLES / "mob.csv", "--group", "white:BZ", "--group", "clear:ML",
                    "--control", "untreated", "--label-ml-per-kg", "white:0.2", "--day0", "2031-05-12",
                    *CHAMBER, "--html", "s.html", "--counts", "c.csv"]
    yield "sheet without a list", ["sheet", "--animals", "10", "--group", "white:BZ", "--html", "s.html"]
    yield "factor", ["factor", *CHAMBER, "--eggs", "12", "15", "--json", "f.json"]
    yield "factor wanted", ["factor", "--faeces-g", "3", "--total-ml", "45", "--wanted", "5"]
    yield "audit", ["audit", "--animals", "7,15", "--trials", "60", "--class", "BZ", "--json", "a.json",
                    "--csv", "a.csv", "--page", "a.md", "--verbose"]
    yield "audit drawn", ["audit", "--animals", "7", "--design", "paired,controlled", "--trials", "60", "--page",
                          "a.html", "--figures", "figures"]
    for shard in (1, 2):
        yield f"audit shard {shard}", ["audit", "--animals", "7,15", "--trials", "40", "--shard",
                                       f"{shard}/2", "--json", "part.json"]
    yield "audit merged", ["audit", "--merge", "../audit-shard-1/part.json",
                           "../audit-shard-2/part.json", "--json", "all.json"]
    yield "audit of cultures", ["audit", "--grid", "cultures", "--trials", "6", "--json", "a.json"]
    for seed in ("1", "2"):
        yield f"teach {seed}", ["teach", "--folder", "pack", "--students", "6", "--seed", seed]
    yield "teach without a drench to tell", ["teach", "--folder", "pack", "--lesson",
                                             "few-eggs"], REFUSED
    yield "cutoffs", ["cutoffs"]
    yield "cutoffs as JSON", ["cutoffs", "--file", EXAMPLES / "own-cut-offs.toml", "--json", "c.json"]
    for name in ("waavp-1992", "waavp-2023-clinical"):
        yield f"cutoffs {name}", ["cutoffs", name]
    yield "cutoffs of one's own", ["cutoffs", "--file", EXAMPLES / "own-cut-offs.toml"]
    yield "version", ["--version"]
    yield "help", ["--help"]
    for command in COMMANDS:
        yield f"help of {command}", [command, "--help"]
        yield f"{command} without what it needs", [command, "--nonsense"], REFUSED
    yield "a missing table", ["analyse", "missing.csv"], REFUSED
    yield "a table that is none", ["analyse", ROOT / "README.md", "--factor", "15"], REFUSED


def folder_of(name):
    return "".join(c if c.isalnum() else "-" for c in name)


def run(program, name, arguments, side):
    """Leaves what a command writes in a folder of its own, and gives the exit code."""
    folder = side / folder_of(name)
    folder.mkdir(parents=True)
    done = subprocess.run([program, *map(str, arguments)], cwd=folder, capture_output=True, check=False,
                          env={**os.environ, "NO_COLOR": "1"})
    (folder / "standard-output").write_bytes(done.stdout)
    (folder / "standard-error").write_bytes(done.stderr)
    (folder / "exit-code").write_text(f"{done.returncode}\n")
    return done.returncode


def lines(path):
    if path.suffix == ".xlsx":
        with zipfile.ZipFile(path) as book:
            return [line for part in sorted(book.namelist())
                    for line in (part + " " + book.read(part).decode("utf-8", "replace")).split(">")]
    return path.read_bytes().decode("utf-8", "replace").split("\n")


def differences(old, new):
    files = {path.relative_to(side) for side in (old, new) for path in side.rglob("*") if path.is_file()}
    for file in sorted(files):
        if not (old / file).exists() or not (new / file).exists():
            yield file, "it is written by one of them alone"
        elif (old / file).read_bytes() != (new / file).read_bytes():
            changed = [line for line in difflib.unified_diff(lines(old / file), lines(new / file),
                                                             lineterm="", n=0)
                       if line[:1] in "+-" and line[:3] not in ("+++", "---")]
            yield file, "\n".join(line[:300] for line in changed[:6])


def main(old, new, folder):
    sides = (folder / "old", folder / "new")
    for side in sides:
        if side.exists():
            sys.exit(f"{side}: it is there already; expected a folder without the results of a last run")
        side.mkdir(parents=True)
        (side / "worms.csv").write_text(WORMS_WITH_CONTROL)
        (side / "larvae.csv").write_text(LARVAE_WITH_CONTROL)
    commands = [(*command, 0) if len(command) == 2 else command for command in [*analyses(), *others()]]
    astray = 0
    for name, arguments, expected in commands:
        ends = [run(program, name, arguments, side) for program, side in zip((old, new), sides)]
        if expected is not ANY_END and ends[0] != expected:
            print(f"{name}: the old program ended with {ends[0]}; expected {expected}\n")
            astray += 1
    found = list(differences(*sides))
    for file, text in found:
        print(f"{file}\n{text}\n")
    compared = sum(path.is_file() for path in sides[0].rglob("*"))
    print(f"{len(commands)} commands, {compared} files: {len(found)} differ, {astray} commands go astray")
    return 1 if found or astray else 0


if __name__ == "__main__":
    if len(sys.argv) not in (3, 4):
        sys.exit(__doc__)
    programs = [os.path.abspath(program) for program in sys.argv[1:3]]
    if len(sys.argv) == 4:
        sys.exit(main(*programs, pathlib.Path(sys.argv[3])))
    with tempfile.TemporaryDirectory() as temporary:
        sys.exit(main(*programs, pathlib.Path(temporary)))
