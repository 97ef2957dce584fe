#!/usr/bin/python3
"""eggfall beside general-purpose software and beside the machine's own floors, in one go.

Run on an idle machine, from the top of the repository, with R (boot, rjags) and numpy installed
(Debian: r-cran-boot r-cran-rjags python3-numpy), after a build with EGGFALL_BENCHMARKS:

    /usr/bin/python3 tests/benchmark/against_peers.py [BUILD]
"""
import json
import pathlib
import subprocess
import sys
import time

import numpy

here = pathlib.Path(__file__).parent
build = pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else "build/release")
seconds = {"s": 1, "ms": 1e-3, "us": 1e-6, "ns": 1e-9}


def output(*command):
    return subprocess.run(command, capture_output=True, text=True, check=True).stdout


def benchmarks():
    """Every benchmark of floors.cpp by name: seconds of processor time, and its counters."""
    text = output(build / "tests/benchmark/eggfall_benchmark", "--benchmark_format=json",
                  "--benchmark_filter=floor_|guard_of|bca_of|log_ratio_of|posterior_of_two|"
                  "posterior_of_15_pairs|simulated_trial")
    runs = {run["name"]: run for run in json.loads(text)["benchmarks"]}
    for run in runs.values():
        run["seconds"] = run["cpu_time"] * seconds[run["time_unit"]]
    return runs


def with_numpy(trials=20_000, animals=15, k=0.7, within=0.5):
    """Seconds for one trial of CountModel's defaults (gamma levels, luck of the day, 10 eggs a
    head, efficacy 95%), all trials in one array: the best of five runs."""
    random = numpy.random.Generator(numpy.random.Philox(1))
    shape = 1 / within**2
    size = (trials, animals)
    best = float("inf")
    for _ in range(5):
        start = time.perf_counter()
        level = random.gamma(k, 10 / k, size)
        random.poisson(level * random.gamma(shape, 1 / shape, size))
        random.poisson(0.05 * level * random.gamma(shape, 1 / shape, size))
        best = min(best, time.perf_counter() - start)
    return best / trials


def mean_of_runs(*command, runs=100):
    """Seconds of wall-clock time for one run of a command."""
    start = time.perf_counter()
    for _ in range(runs):
        subprocess.run(command, stdout=subprocess.DEVNULL, check=True)
    return (time.perf_counter() - start) / runs


def compared(what, peer, theirs, ours):
    print(f"  {what:<34}{peer:<8}{theirs * 1e3:>12.4f} ms{ours * 1e3:>11.4f} ms{theirs / ours:>9.1f}")


def main():
    ours = benchmarks()
    peers = {name: float(time) for name, time in
             (line.split() for line in output("Rscript", here / "peers.R").splitlines())}
    print("Against general-purpose software: time of the peer, of eggfall, and their ratio")
    compared("bootstrap, BCa (R: 10,000 resamples)", "R boot", peers["bca"],
             ours["bca_of_trial_a"]["seconds"])
    compared("limits of 1992", "R base", peers["log_ratio"], ours["log_ratio_of_trial_a"]["seconds"])
    compared("one simulated trial", "numpy", with_numpy(), ours["simulated_trial"]["seconds"])
    print("The paired posterior against JAGS")
    for line in output("sh", here / "against_jags.sh", str(build)).splitlines():
        print(" ", line)

    print("Against the floors of this machine")
    guard, exponentials = ours["guard_of_15_animals"]["seconds"], ours["floor_exponentials"]["seconds"]
    print(f"  what animals and luck add to a posterior of 15 {guard * 1e6:.0f} us; the exponentials of one "
          f"cumulant function {exponentials * 1e6:.3f} us: {guard / exponentials:.0f} of them")
    product, whole = ours["floor_posterior_product"], ours["posterior_of_two_groups"]
    rate, peak = product["flops"], ours["floor_multiply_add"]["flops"]
    print(f"  posterior of two groups {whole['seconds'] * 1e3:.2f} ms; its largest usual product alone "
          f"{product['seconds'] * 1e3:.2f} ms, at {rate / 1e9:.1f} GFLOP/s of "
          f"{peak / 1e9:.1f} in the caches")
    pairs, sums = (ours[name]["seconds"] for name in ("posterior_of_15_pairs", "floor_paired_sums"))
    print(f"  posterior of 15 pairs {pairs * 1e3:.3f} ms, its multiplications as one product "
          f"{sums * 1e3:.3f} ms: {pairs / sums:.2f} times")
    print(f"  memory copied at {ours['floor_memory']['bytes_per_second'] / 1e9:.1f} GB/s")

    print("The whole command, wall-clock time")
    program, trial = build / "eggfall", here / "trial_a.csv"
    bare = mean_of_runs("/bin/true")
    for words, command in {
            "analyse --help": [program, "analyse", "--help"],
            "analyse of one group, without larger trials": [
                program, "analyse", trial, "--simulations", "0"],
            "analyse of one group, as by default": [program, "analyse", trial]}.items():
        print(f"  {words:<50}{mean_of_runs(*command) * 1e3:>8.1f} ms")
    print(f"  {'(starting any program: /bin/true)':<50}{bare * 1e3:>8.1f} ms")


main()
