"""Hand edging of large floors, which is computed in parts, against GEOS, which buffers the floor in one piece. By hand:

    cargo bench --bench scale -- --write FOLDER --mix corners
    cargo bench --bench scale -- --write FOLDER --mix crowd
    python3 tests/reference/large_floors.py target/release/slabwalk FOLDER/corners-10000.yaml FOLDER/crowd-10000.yaml

Needs the packages of tests/bench/python/requirements.txt. Ends with 1 where the areas differ by more than 1 part in 100,000.
"""

import json
import pathlib
import re
import subprocess
import sys

from shapely.geometry import Polygon

sys.path.append(str(pathlib.Path(__file__).resolve().parents[1] / "bench" / "python"))
from takeoff import EDGE_GAP, FOOT, HEAD_RADIUS  # noqa: E402

# Pieces of a quarter turn. GEOS puts their corners on the arc, so that its sectors are too small by 6e-6 of their area.
PIECES = 256
CLOSE = 1e-5


def outline(path):
    """The floor, m, from the one line of the sketch that has it; the mixes named above have no holes."""
    with open(path, encoding="utf-8") as file:
        (line,) = re.findall(r"outline: \[(.*)\]$", file.read(), re.MULTILINE)
    points = re.findall(r"\[([^\]]*)\]", line)
    return Polygon([[float(v) * FOOT for v in point.split(",")] for point in points])


def main():
    program, *paths = sys.argv[1:]
    wrong = False
    for path in paths:
        floor = outline(path)
        reached = floor.buffer(-(EDGE_GAP + HEAD_RADIUS), quad_segs=PIECES).buffer(HEAD_RADIUS, quad_segs=PIECES)
        theirs = floor.difference(reached).area
        found = subprocess.run([program, "takeoff", path, "--format", "json"], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL)
        ours = json.loads(found.stdout)["area"]["hand_edge_m2"]
        off = abs(ours - theirs) / theirs
        wrong |= off > CLOSE
        print(f"{path}: slabwalk {ours:.6f} m2, GEOS {theirs:.6f} m2, {off:.1e}")
    sys.exit(wrong)


if __name__ == "__main__":
    main()
