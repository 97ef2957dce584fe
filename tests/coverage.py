#!/usr/bin/env python3
"""Shows gcovr's summary and compares the sources that decide or calculate with their goal."""

import json
import sys

GOAL_LINES = 95
GOAL_BRANCHES = 90
WATCHED = """judgement/cut_offs judgement/decide_standing judgement/judge judgement/judgement
 judgement/verdict statistics/bootstrap statistics/comparison statistics/count_spread
 statistics/egg_totals statistics/evidence statistics/interval statistics/log_ratio_density
 statistics/log_ratio_interval statistics/mean_posterior statistics/paired_posterior
 statistics/posterior statistics/ranking statistics/worm_share""".split()


def share(covered, total):
    return 100 * covered / total if total else 100.0


def main(path):
    with open(path, encoding="utf-8") as summary:
        files = json.load(summary)["files"]
    watched = {f"src/{name}.cpp" for name in WATCHED}
    missing = watched - {file["filename"] for file in files}
    short = []
    print(f"{'':38}{'lines':>8}{'branches':>10}")
    for file in sorted(files, key=lambda file: (file["filename"] not in watched, file["filename"])):
        name = file["filename"]
        lines = share(file["line_covered"], file["line_total"])
        branches = share(file["branch_covered"], file["branch_total"])
        mark = "*" if name in watched else " "
        print(f"{mark} {name:36}{lines:7.1f}%{branches:9.1f}%")
        if name in watched and (lines < GOAL_LINES or branches < GOAL_BRANCHES):
            short.append(name)
    print(f"* at least {GOAL_LINES}% of lines and {GOAL_BRANCHES}% of branches")
    for name in sorted(missing):
        print(f"not measured: {name}")
    for name in short:
        print(f"below the goal: {name}")
    return 1 if short or missing else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
