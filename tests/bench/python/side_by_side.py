"""The same takeoff in Python (Shapely 2, PyYAML's C loader, the standard library), timed beside slabwalk's, in one run.

    python3 tests/bench/python/side_by_side.py [--sizes 100 1000 10000 100000] [--runs 3]

The floors are those of `cargo bench --bench scale`, which writes them and times slabwalk's stages. The totals of both must agree,
or the script ends with 1 and prints no times; it also ends with 1 where slabwalk is less than ten times faster as a whole.
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
# Times that slabwalk has to be faster as a whole, at every size where starting a process is not all there is.
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


def bench(*arguments):
    """The floors and slabwalk's times by stage come from its own benchmark."""
    command = ["cargo", "bench", "--locked", "--quiet", "--bench", "scale", "--", *map(str, arguments)]
    return subprocess.run(command, cwd=ROOT, check=True, stdout=subprocess.PIPE, text=True).stdout


def slabwalk(path, runs):
    """The real command, from the file to its JSON: least wall seconds, least CPU seconds, and the document."""
    program = ROOT / ".target" / "release" / "slabwalk"
    best_wall = best_cpu = float("inf")
    for _ in range(runs):
        before, start = cpu_of_children(), time.perf_counter()
        out = subprocess.run([program, "takeoff", path, "--format", "json"], check=True, stdout=subprocess.PIPE)
        best_wall = min(best_wall, time.perf_counter() - start)
        best_cpu = min(best_cpu, cpu_of_children() - before)
    return best_wall, best_cpu, json.loads(out.stdout)


def cpu_of_children():
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def python(path, runs):
    """The takeoff in Python: least seconds of each stage, least CPU seconds of all, and the document."""
    best, best_cpu = dict.fromkeys(STAGES, float("inf")), float("inf")
    for _ in range(runs):
        times, before = {}, time.process_time()
        document = takeoff.takeoff(path, os.devnull, times)
        best_cpu = min(best_cpu, time.process_time() - before)
        best = {stage: min(best[stage], times[stage]) for stage in STAGES}
    return best, best_cpu, document


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
            if abs(a - b) > tolerance * max(1.0, abs(a), abs(b))]


def table(size, stages, times, whole):
    print(f"\n{size} joints and cracks, seconds\n\n| stage | Python | slabwalk | ratio |\n| --- | ---: | ---: | ---: |")
    for stage in STAGES:
        print(line(stage, times[stage], stages[stage] / 1000))
    rest = (stages["find"] + stages["order"]) / 1000
    print(f"| findings, order | | {rest:.4f} | |")
    ratio = sum(times.values()) / whole["wall"]
    print(line("file to JSON, whole command", sum(times.values()), whole["wall"]))
    print(line("CPU of all", whole["python_cpu"], whole["cpu"]))
    return ratio


def line(name, python_s, slabwalk_s):
    return f"| {name} | {python_s:.4f} | {slabwalk_s:.4f} | {python_s / slabwalk_s:.0f} |"


def main():
    arguments = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    arguments.add_argument("--sizes", type=int, nargs="+", default=[100, 1000, 10_000, 100_000])
    arguments.add_argument("--runs", type=int, default=3)
    arguments = arguments.parse_args()
    subprocess.run(["cargo", "build", "--locked", "--release", "--quiet"], cwd=ROOT, check=True)
    slow = []
    with tempfile.TemporaryDirectory() as folder:
        for size in arguments.sizes:
            bench("--size", size, "--write", folder)
            path = pathlib.Path(folder) / f"even-{size}.yaml"
            stages = json.loads(bench("--size", size, "--json"))
            wall, cpu, theirs = slabwalk(path, arguments.runs)
            times, python_cpu, ours = python(path, arguments.runs)
            if different := differences(ours, theirs):
                sys.exit("the totals differ:\n" + "\n".join(different))
            ratio = table(size, stages, times, {"wall": wall, "cpu": cpu, "python_cpu": python_cpu})
            if ratio < WANTED:
                slow.append(f"{size}: only {ratio:.1f} times faster")
    if slow:
        sys.exit("\n".join(slow))


if __name__ == "__main__":
    main()
