#!/usr/bin/env python3
"""Makes mutants of the sources that decide, one change each, and runs their tests on them.

A mutant is compiled without optimisation and linked with the objects of the build: its tests, and
the core, of which the linker leaves out the original. It is killed if it does not link, crashes,
does not end, or fails a test. Mutants that the compiler refuses are not counted.

The exit code is 1 if a mutant survives that equivalent.toml does not list, or if what that lists
is killed or no longer there.
"""

import concurrent.futures
import json
import os
import pathlib
import re
import shlex
import subprocess
import sys
import tempfile
import time
import tomllib

ROOT = pathlib.Path(__file__).resolve().parents[2]

# What reads tables is seen in what whole tables are taken for, so that any test of the room may notice;
# but not the one that takes as long as all others together.
INTAKE = sorted(f"intake/{path.stem}" for path in (ROOT / "tests/intake").glob("test_*.cpp")
                if path.stem != "test_round_trips")

# The sources and the tests that are to notice. Of what draws, comparisons and logic alone are
# changed: places and widths are looked at (tests/browser), not asserted.
TESTS = {
    "src/judgement/verdict.cpp": ["judgement/test_verdict", "judgement/test_judge"],
    "src/judgement/judge.cpp": ["judgement/test_judge", "judgement/test_analyse"],
    "src/judgement/decide_standing.cpp": ["judgement/test_decide_standing", "judgement/test_advise"],
    "src/judgement/cut_offs.cpp": ["judgement/test_cut_offs", "judgement/test_verdict"],
    "src/judgement/day_check.cpp": ["judgement/test_day_check"],
    "src/judgement/find_bars.cpp": ["judgement/test_find_bars"],
    "src/judgement/unit_check.cpp": ["judgement/test_unit_check", "judgement/test_find_bars"],
    "src/judgement/dose_check.cpp": ["judgement/test_dose_check", "judgement/test_find_bars"],
    "src/judgement/missing_after.cpp": ["judgement/test_missing_after", "judgement/test_find_bars"],
    "src/judgement/own_fall.cpp": ["judgement/test_own_fall", "judgement/test_find_bars"],
    "src/judgement/advise.cpp": ["judgement/test_advise", "judgement/test_worm_analysis",
                                 "judgement/test_analyse", "judgement/test_egg_reappearance"],
    "src/judgement/caveats.cpp": ["judgement/test_caveats", "judgement/test_larvae_caveats",
                                  "judgement/test_worm_analysis"],
    "src/judgement/field_caveats.cpp": ["judgement/test_field_caveats"],
    "src/judgement/larvae_caveats.cpp": ["judgement/test_larvae_caveats", "judgement/test_find_bars"],
    "src/judgement/gather_evidence.cpp": ["judgement/test_gather_evidence", "judgement/test_analyse"],
    "src/judgement/group_evidence.cpp": ["judgement/test_group_evidence", "judgement/test_analyse"],
    "src/statistics/interval.cpp": ["statistics/test_interval"],
    "src/statistics/log_ratio_interval.cpp": ["statistics/test_log_ratio_interval"],
    "src/statistics/egg_totals.cpp": ["statistics/test_egg_totals"],
    "src/statistics/comparison.cpp": ["statistics/test_comparison"],
    "src/statistics/evidence.cpp": ["statistics/test_evidence", "statistics/test_comparison"],
    "src/statistics/ranking.cpp": ["statistics/test_ranking"],
    "src/statistics/combination.cpp": ["statistics/test_combination"],
    "src/statistics/count_luck.cpp": ["statistics/test_count_luck"],
    "src/trial/trial_builder.cpp": ["trial/test_read_trials", "trial/test_visits", "trial/test_repeat_counts",
                                    "trial/test_malformed_tables", "trial/test_label_dose",
                                    "trial/test_control_option", "trial/test_lookalikes"],
    "src/intake/understand.cpp": INTAKE,
    "src/intake/kinds_at_odds.cpp": INTAKE,
    "src/intake/settle_counts.cpp": INTAKE,
    "src/intake/count_cell.cpp": INTAKE,
    "src/intake/count_blocks.cpp": INTAKE,
    "src/intake/sheet_reading.cpp": INTAKE,
    "src/intake/unlabelled_sums.cpp": INTAKE,
    "src/intake/layout.cpp": INTAKE,
    "src/teach/students/hand_calculation.cpp": ["teach/students/test_hand_calculation"],
    "src/teach/students/line_up.cpp": ["teach/students/test_line_up"],
}
DRAWS = {"src/teach/students/line_up.cpp"}

LOGIC = {
    "<": ["<=", ">="],
    "<=": ["<", ">"],
    ">": [">=", "<="],
    ">=": [">", "<"],
    "==": ["!="],
    "!=": ["=="],
    "&&": ["||"],
    "||": ["&&"],
}
ARITHMETIC = {"+": ["-"], "-": ["+"], "*": ["/"], "/": ["*"], "+=": ["-="], "-=": ["+="]}

# The house format sets binary operators between spaces, and brackets of templates without.
BINARY = re.compile(r"(?<=\s)(<=|>=|==|!=|&&|\|\||\+=|-=|<|>|\+|-|\*|/)(?=\s)")
NOT = re.compile(r"(?<![\w)])!(?=[\w(*])")
MINUS = re.compile(r"(?<=[\s({,])-(?=[\w(])")
STEP = re.compile(r"\+\+(?=[\w(])")
EXTREME = re.compile(r"\bstd::(min|max)\b")
NUMBER = re.compile(r"(?<![\w.'])\d[\d.']*(?:e-?\d+)?(?![\w.'])")


def blanked(source):
    """The source with comments, texts, includes and template arguments blanked, as long as before."""
    hidden = re.compile(
        r'//[^\n]*|R"\((?:.|\n)*?\)"|"(?:\\.|[^"\\\n])*"|#include[^\n]*|(?<=\w)<[^<>;()]*>'
    )
    return hidden.sub(lambda found: re.sub(r"[^\n]", " ", found.group()), source)


def places(source, draws):
    """(start, end, new text) of each mutant."""
    code = blanked(source)
    for found in BINARY.finditer(code):
        table = LOGIC if draws else LOGIC | ARITHMETIC
        if '"' in (source[: found.start()].rstrip()[-1], source[found.end() :].lstrip()[0]):
            continue  # texts are joined, which has no other sign
        for new in table.get(found.group(), []):
            yield found.start(), found.end(), new
    for found in NOT.finditer(code):
        yield found.start(), found.end(), ""
    if draws:
        return
    for found in MINUS.finditer(code):
        yield found.start(), found.end(), ""
    for found in STEP.finditer(code):
        yield found.start(), found.end(), "--"
    for found in EXTREME.finditer(code):
        yield found.start(1), found.end(1), {"min": "max", "max": "min"}[found.group(1)]
    for found in NUMBER.finditer(code):
        yield found.start(), found.end(), f"({found.group()} + 1)"


class Mutant:
    def __init__(self, file, source, start, end, new):
        line_start = source.rfind("\n", 0, start) + 1
        line_end = source.find("\n", start)
        self.file = file
        self.text = source[:start] + new + source[end:]
        self.line = source.count("\n", 0, start) + 1
        self.code = source[line_start:line_end].strip()
        self.mutated = (source[line_start:start] + new + source[end:line_end]).strip()

    def key(self):
        return self.file, self.code, self.mutated

    def __str__(self):
        return f"{self.file}:{self.line}\n    {self.code}\n    {self.mutated}"


def mutants_of(file):
    source = (ROOT / file).read_text()
    made = [Mutant(file, source, *place) for place in places(source, file in DRAWS)]
    return sorted(made, key=lambda mutant: mutant.line)


class Build:
    def __init__(self, folder):
        self.folder = folder
        commands = json.loads((folder / "compile_commands.json").read_text())
        self.commands = {entry["file"]: entry for entry in commands}
        self.of_rooms = {}
        for entry in commands:
            if room := re.search(r"/eggfall_(\w+)\.dir/Unity/", entry["file"]):
                self.of_rooms[room.group(1)] = entry
        link = subprocess.run(
            ["ninja", "-C", folder, "-t", "commands", "-s", "tests/eggfall_tests"],
            check=True, capture_output=True, text=True).stdout
        words = shlex.split(link.strip().splitlines()[-1])
        self.libraries = [word for word in words
                          if re.search(r"\.(a|so)[.\d]*$", word) or word.startswith("-l")]

    def test_objects(self, names):
        folder = self.folder / "tests/CMakeFiles/eggfall_tests.dir"
        support = sorted((folder / "support").glob("*.o"))
        return [str(folder / f"{name}.cpp.o") for name in ["main"] + names] + [str(o) for o in support]

    def entry(self, file):
        """How a source is compiled, or the files of its room together."""
        room = pathlib.Path(file).parts[1]
        return self.commands.get(str(ROOT / file)) or self.of_rooms[room]

    def compiler(self, file):
        """The words that compile a source, up to its output, without optimisation or counters."""
        words = shlex.split(self.entry(file)["command"])
        kept = [word for word in words[: words.index("-o")]
                if not word.startswith(("-W", "-O", "-fprofile")) and word != "--coverage"]
        return kept + ["-O0", "-w", "-D_GLIBCXX_ASSERTIONS"]

    def run(self, words, file):
        return subprocess.run(words, cwd=self.entry(file)["directory"],
                              capture_output=True, text=True)

    def prepare_includes(self, file, folder):
        """Compiles what the source includes, once for all its mutants: most of the time goes there."""
        source = (ROOT / file).read_text()
        header = folder / "includes.hpp"
        header.write_text("".join(re.findall(r"^#include[^\n]*\n", source, re.MULTILINE)))
        done = self.run(self.compiler(file) + ["-x", "c++-header", "-o", f"{header}.gch", str(header)], file)
        if done.returncode != 0:
            raise SystemExit(f"{file}: what it includes does not compile:\n{done.stderr}")

    def compile(self, mutant_text, file, includes, folder):
        """The object of a changed source, or None if the compiler refuses it."""
        changed = folder / pathlib.Path(file).name
        changed.write_text(mutant_text)
        out = str(folder / "mutant.o")
        done = self.run(self.compiler(file) + ["-include", str(includes / "includes.hpp"),
                                               "-o", out, "-c", str(changed)], file)
        return out if done.returncode == 0 else None

    def verdict(self, text, file, includes, folder):
        """'refused', 'killed' or 'survived'."""
        out = self.compile(text, file, includes, folder)
        if out is None:
            return "refused"
        program = str(folder / "tests")
        linked = subprocess.run(
            ["c++", "-fuse-ld=gold", "-Wl,--allow-multiple-definition", "--coverage", "-o", program, out] + self.test_objects(TESTS[file]) +
            self.libraries, cwd=self.folder, capture_output=True, text=True)
        if linked.returncode != 0:
            raise SystemExit(f"{file}: its tests do not link:\n{linked.stderr}")
        # What the objects of a build with counters count is no one's concern here.
        elsewhere = {**os.environ, "GCOV_PREFIX": str(folder)}
        try:
            ran = subprocess.run([program, "--abort", "~[.]", "~*calibrat*"], cwd=folder, capture_output=True, timeout=120,
                                 env=elsewhere)
        except subprocess.TimeoutExpired:
            return "killed"
        return "survived" if ran.returncode == 0 else "killed"


def judged(build, mutant, includes):
    with tempfile.TemporaryDirectory() as folder:
        return build.verdict(mutant.text, mutant.file, includes, pathlib.Path(folder))


def main(arguments):
    build = Build(pathlib.Path(arguments[0]).resolve())
    files = arguments[1:] or list(TESTS)
    listed = tomllib.loads((ROOT / "tests/mutation/equivalent.toml").read_text()).get("mutant", [])
    equivalent = {(row["file"], row["code"], row["mutated"]): row for row in listed
                  if row["file"] in files}
    started = time.monotonic()
    faults = []
    seen = set()
    sums = {"made": 0, "killed": 0, "equivalent": 0, "survived": 0}
    for file in files:
        counts = dict.fromkeys(sums, 0)
        mutants = mutants_of(file)
        with tempfile.TemporaryDirectory() as prepared:
            includes = pathlib.Path(prepared)
            build.prepare_includes(file, includes)
            with tempfile.TemporaryDirectory() as folder:
                source = (ROOT / file).read_text()
                if build.verdict(source, file, includes, pathlib.Path(folder)) != "survived":
                    raise SystemExit(f"{file}: its tests fail without any change")
            with concurrent.futures.ThreadPoolExecutor(max_workers=2) as pool:
                verdicts = list(pool.map(lambda mutant: judged(build, mutant, includes), mutants))
        for mutant, verdict in zip(mutants, verdicts):
            if verdict == "refused":
                continue
            counts["made"] += 1
            known = mutant.key() in equivalent
            seen.add(mutant.key())
            if verdict == "survived":
                counts["equivalent" if known else "survived"] += 1
                if not known:
                    faults.append(f"survived: {mutant}")
            else:
                counts["killed"] += 1
                if known:
                    faults.append(f"listed as equivalent, but killed: {mutant}")
        print(f"{file}: " + ", ".join(f"{n} {what}" for what, n in counts.items()), flush=True)
        for what, n in counts.items():
            sums[what] += n
    for key in equivalent.keys() - seen:
        faults.append("listed as equivalent, but no such mutant: " + "\n    ".join(key))
    print("all: " + ", ".join(f"{n} {what}" for what, n in sums.items()) +
          f"; {time.monotonic() - started:.0f} s")
    print("\n".join(faults))
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
