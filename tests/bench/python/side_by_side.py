"""The same takeoff in Python (Shapely 2, PyYAML's C loader, the standard library), timed beside slabwalk's, in one run.

    python3 tests/bench/python/side_by_side.py [--sizes 100 1000 10000 100000] [--runs 3] [--totals]

The floors are those of `cargo bench --bench scale`, which writes them and times slabwalk's stages. The totals of both must agree,
or the script ends with 1 and prints no times; it also ends with 1 where slabwalk is not done ten times sooner.
With --totals only the totals are compared, with those of the program that the tests have built.
Python's side makes no findings and no order; slabwalk's time holds both. Needs the packages of requirements.txt.
"""

import argparse
import json
import os
import pathlib
import resource
import subprocess
import sys
import tempfile
import time

import takeoff

ROOT = pathlib.Path(__file__).resolve().parents[3]
# How many times sooner slabwalk has to be done, from the file to the JSON, the process of each started for the one file. Run this with
# nothing else going on: elapsed time is what somebody waits, and other work changes it. The processor's time stands beside it.
WANTED = 10.0
STAGES = ("read", "resolve", "measure", "json")
# Keys of the takeoff that must agree, and how closely: circles and rounded corners are polygons in Shapely.
CLOSE, ROUND = 1e-6, 1e-3
COMPARED = {
    "area": {"gross_m2": CLOSE, "net_m2": CLOSE, "hand_edge_m2": ROUND},
    "totals": {
        key: CLOSE
        for key in (
            "chase_m saw_m hand_cut_m hand_ends fill_l honor_m sealant_l crack_m crack_chase_m crack_fill_l patch_l "
            "hand_grind_m hand_grind_m2 hand_grind_l blemish_m2"
        ).split()
    },
}


def bench(profile, *arguments):
    """The floors and slabwalk's times by stage come from its own benchmark."""
    command = ["cargo", "bench", "--locked", "--quiet", "--profile", profile, "--bench", "scale", "--", *map(str, arguments)]
    return subprocess.run(command, cwd=ROOT, check=True, stdout=subprocess.PIPE, text=True).stdout


def command(arguments, runs):
    """A command from a file to its JSON, its process started for the one file: least seconds elapsed and of the processor."""
    elapsed, cpu = float("inf"), float("inf")
    for _ in range(runs):
        before, start = cpu_of_children(), time.perf_counter()
        subprocess.run(arguments, check=True, stdout=subprocess.DEVNULL)
        elapsed = min(elapsed, time.perf_counter() - start)
        cpu = min(cpu, cpu_of_children() - before)
    return elapsed, cpu


def cpu_of_children():
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def python(path, runs):
    """The takeoff in Python, on its one core: least seconds for each stage, and the document."""
    best = dict.fromkeys(STAGES, float("inf"))
    for _ in range(runs):
        times = {}
        document = takeoff.takeoff(path, os.devnull, times)
        best = {stage: min(best[stage], times[stage]) for stage in STAGES}
    return best, document


# The Python takeoff counts a crack that lies on another whole, slabwalk once: a difference with a reason. On the even floor such
# stretches are a thousandth of all crack, so slabwalk has no more than Python, and no less than this share of it.
ONCE = {"totals.crack_m", "totals.crack_fill_l", "cracks in panels"}
LEAST_ONCE = 0.99


def differences(ours, theirs):
    """Every compared number that differs, as a line of text."""
    pairs = [(f"{part}.{key}", ours[part][key], theirs[part][key], tolerance)
             for part, keys in COMPARED.items() for key, tolerance in keys.items()]
    pairs.append(("edge_m", ours["edge_m"], theirs["edge_m"], CLOSE))
    for name, value in (
        ("number of panels", lambda d: len(d["panels"])),
        ("area of panels", lambda d: sum(p["area_m2"] for p in d["panels"])),
        ("cracks in panels", lambda d: sum(p["crack_m"] for p in d["panels"])),
        ("joints of panels", lambda d: sum(len(p["joints"]) for p in d["panels"])),
    ):
        pairs.append((name, value(ours), value(theirs), CLOSE))
    return [f"{name}: Python {a}, slabwalk {b}" for name, a, b, tolerance in pairs
            if abs(a - b) > tolerance * max(1.0, abs(a), abs(b))
            and not (name in ONCE and LEAST_ONCE * a <= b <= a)]


def table(size, stages, times, commands):
    """Prints the times of one size; gives how many times sooner slabwalk is done."""
    print(f"\n{size} joints and cracks, seconds\n\n| stage | Python | slabwalk | ratio |\n| --- | ---: | ---: | ---: |")
    for stage in STAGES:
        print(line(stage, times[stage], stages[stage] / 1000))
    rest = (stages["find"] + stages["order"]) / 1000
    print(f"| findings, order | | {rest:.4f} | |")
    (theirs, their_cpu), (ours, our_cpu) = commands
    print(line("command, from a file to JSON", theirs, ours))
    print(line("the same without Python's start and imports", sum(times.values()), ours))
    print(line("command, of the processor", their_cpu, our_cpu))
    return theirs / ours


def line(name, python_s, slabwalk_s):
    return f"| {name} | {python_s:.4f} | {slabwalk_s:.4f} | {python_s / slabwalk_s:.1f} |"


def main():
    arguments = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    arguments.add_argument("--sizes", type=int, nargs="+", default=[100, 1000, 10_000, 100_000])
    arguments.add_argument("--runs", type=int, default=3)
    arguments.add_argument("--totals", action="store_true", help="compare the totals and take no times")
    arguments = arguments.parse_args()
    if not arguments.totals:
        subprocess.run(["cargo", "build", "--locked", "--release", "--quiet"], cwd=ROOT, check=True)
    profile, folder_of_program = ("dev", "debug") if arguments.totals else ("release", "release")
    slow = []
    with tempfile.TemporaryDirectory() as folder:
        for size in arguments.sizes:
            bench(profile, "--size", size, "--write", folder)
            path = pathlib.Path(folder) / f"even-{size}.yaml"
            slabwalk = [ROOT / ".target" / folder_of_program / "slabwalk", "takeoff", path, "--format", "json"]
            found = json.loads(subprocess.run(slabwalk, check=True, stdout=subprocess.PIPE).stdout)
            times, document = python(path, arguments.runs)
            if different := differences(document, found):
                sys.exit("the totals differ:\n" + "\n".join(different))
            if arguments.totals:
                print(f"{size} records: the totals agree")
                continue
            stages = json.loads(bench(profile, "--size", size, "--json"))
            script = [sys.executable, pathlib.Path(__file__).parent / "takeoff.py", path]
            commands = command(script, arguments.runs), command(slabwalk, 3 * arguments.runs)
            ratio = table(size, stages, times, commands)
            if ratio < WANTED:
                slow.append(f"{size}: done only {ratio:.1f} times sooner")
    if slow:
        sys.exit("\n".join(slow))


if __name__ == "__main__":
    main()
