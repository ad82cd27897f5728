"""A takeoff of the benchmark's floors with Shapely 2, written as one would write it for speed: arrays, trees and prepared geometry
wherever there are many of a thing, plain Python only where each record is looked at once.

It knows the forms that `cargo bench --bench scale` writes under the even mix: points by coordinates, joints and cracks as paths, circles
and boxes, steps along joints. Lengths in meters. The rules and their numbers stand in docs/formulas.md.
"""

import functools
import json
import math
import sys
import time

import numpy as np
import shapely
import yaml

FOOT, INCH = 0.3048, 0.0254
ON_TOP = INCH / 8
CLEARANCE = 3 * INCH
HEAD_RADIUS, EDGE_GAP = 15 * INCH, 2 * INCH
HAND_FROM, FEATHER = 3 / 16 * INCH, 12
BLADE, LEAST_DEPTH, DEEPEST = INCH / 4, 3 / 4 * INCH, 2 * INCH
RODS = [n / 8 * INCH for n in (2, 3, 4, 5, 6, 7, 8, 10)]
BESIDE = 0.02
TREATMENTS = {"control": "fill", "construction": "fill", "isolation": "honor"}


def takeoff(path, out, times):
    """Reads a sketch, measures it and writes the takeoff as JSON; notes the seconds of each stage."""
    start = time.perf_counter()

    def lap(stage):
        nonlocal start
        now = time.perf_counter()
        times[stage] = now - start
        start = now

    with open(path, encoding="utf-8") as file:
        sketch = yaml.load(file, Loader=yaml.CSafeLoader)
    lap("read")
    floor = Floor(sketch)
    lap("resolve")
    document = measured(sketch, floor)
    lap("measure")
    with open(out, "w", encoding="utf-8") as file:
        # Without indentation, because only then the encoder is the one in C.
        file.write(json.dumps(document))
    lap("json")
    return document


@functools.lru_cache(maxsize=4096)
def length(text, bare):
    """A length as written, in meters; `bare` is the unit of a number without one."""
    text = str(text)
    if text.endswith('"'):
        return number(text[:-1]) * INCH
    if text.endswith("'"):
        return number(text[:-1]) * FOOT
    return number(text) * bare


def number(text):
    whole, _, rest = text.strip().rpartition(" ")
    over, slash, under = rest.partition("/")
    value = float(over) / float(under) if slash else float(rest)
    return value + (float(whole) if whole else 0.0)


def lines(records):
    """The paths of many records as an array of lines."""
    counts = [len(record["path"]) for record in records]
    points = np.array([point for record in records for point in record["path"]], dtype=float).reshape(-1, 2) * FOOT
    return shapely.linestrings(points, indices=np.repeat(np.arange(len(records)), counts))


class Floor:
    """The geometry of a sketch: lines, the net area, what of each line lies in it, and the panels."""

    def __init__(self, sketch):
        self.outline = shapely.Polygon(np.array(sketch["slab"]["outline"], dtype=float) * FOOT)
        self.net = self.outline
        self.joints = lines(sketch["joints"])
        self.cracks = lines(sketch["cracks"])
        shapely.prepare(self.net)
        self.joint_lengths = self.inside(self.joints) - self.doubled()
        self.crack_lengths = self.inside(self.cracks)
        self.spalls = self.circles(sketch.get("spalls", []))
        self.blemishes = self.boxes(sketch.get("blemishes", []))
        self.names(sketch)
        self.panels()

    def inside(self, of):
        """The length of each line in the net area; only those that leave it are cut."""
        found = shapely.length(of)
        cut = ~shapely.covers(self.net, of)
        found[cut] = shapely.length(shapely.intersection(of[cut], self.net))
        return found

    def doubled(self):
        """Of each joint the length that runs on an earlier one."""
        out = np.zeros(len(self.joints))
        later, earlier = shapely.STRtree(self.joints).query(self.joints, predicate="dwithin", distance=ON_TOP)
        later, earlier = later[earlier < later], earlier[earlier < later]
        ends = shapely.get_coordinates(self.joints).reshape(-1, 2, 2)
        along = ends[:, 1] - ends[:, 0]
        size = np.hypot(along[:, 0], along[:, 1])
        unit = along / size[:, None]
        parallel = np.abs(unit[later, 0] * unit[earlier, 1] - unit[later, 1] * unit[earlier, 0]) < 0.1
        later, earlier = later[parallel], earlier[parallel]
        stations = np.einsum("ijk,ik->ij", ends[earlier] - ends[later, :1], unit[later])
        low = np.clip(stations.min(axis=1), 0, size[later])
        high = np.clip(stations.max(axis=1), 0, size[later])
        np.add.at(out, later, high - low)
        return out

    @staticmethod
    def circles(records):
        centers = np.array([r["circle"]["center"] for r in records], dtype=float).reshape(-1, 2) * FOOT
        radii = np.array([length(r["circle"]["diameter"], FOOT) / 2 for r in records])
        return shapely.buffer(shapely.points(centers), radii, quad_segs=16)

    @staticmethod
    def boxes(records):
        low = np.array([r["box"]["corner"] for r in records], dtype=float).reshape(-1, 2) * FOOT
        high = low + np.array([r["box"]["size"] for r in records], dtype=float).reshape(-1, 2) * FOOT
        return shapely.box(low[:, 0], low[:, 1], high[:, 0], high[:, 1])

    def names(self, sketch):
        """Records without an id are numbered."""
        for letter, key in (("J", "joints"), ("C", "cracks"), ("S", "spalls"), ("B", "blemishes"), ("L", "lippage")):
            for i, record in enumerate(sketch.get(key, [])):
                record["id"] = f"{letter}{i + 1}"
        self.ids = {key: [r["id"] for r in sketch.get(key, [])] for key in ("joints", "cracks", "spalls", "blemishes", "lippage")}

    def panels(self):
        """What the joints divide the floor into, in rows from the top, and what lies in each."""
        pieces = shapely.get_parts(shapely.union_all([*self.joints, self.outline.boundary]))
        found = shapely.get_parts(shapely.polygonize(pieces))
        bounds = shapely.bounds(found)
        order = np.lexsort((bounds[:, 0], -np.round(bounds[:, 3], 6)))
        self.shapes = found[order]
        self.tree = shapely.STRtree(self.shapes)
        rectangles = shapely.get_coordinates(shapely.oriented_envelope(self.shapes)).reshape(-1, 5, 2)
        sides = np.hypot(*np.moveaxis(np.diff(rectangles[:, :3], axis=1), 2, 0))
        self.long, self.short = sides.max(axis=1), sides.min(axis=1)
        count = len(self.shapes)
        self.panel_joints = [[] for _ in range(count)]
        self.panel_items = [[] for _ in range(count)]
        self.bordering(pieces)
        self.panel_cracks = np.zeros(count)
        which, panel = self.tree.query(self.cracks, predicate="intersects")
        within = shapely.length(shapely.intersection(self.cracks[which], self.shapes[panel]))
        # A crack along a joint lies on the edge of two panels, and counts in one of them.
        twice = np.bincount(which, within, len(self.cracks)) - self.crack_lengths
        last = np.zeros(len(self.cracks), dtype=int)
        last[which] = np.arange(len(which))
        within[last[twice > 1e-6]] -= twice[twice > 1e-6]
        np.add.at(self.panel_cracks, panel, within)
        self.put(self.ids["cracks"], which, panel)
        for key, shapes in (("spalls", self.spalls), ("blemishes", self.blemishes)):
            self.put(self.ids[key], *self.tree.query(shapes, predicate="intersects"))

    def put(self, ids, which, panel):
        for w, p in zip(which.tolist(), panel.tolist()):
            self.panel_items[p].append(ids[w])

    def bordering(self, pieces):
        """The joints around each panel: a point on either side of the middle of each noded piece shows the two."""
        middles = shapely.line_interpolate_point(pieces, 0.5, normalized=True)
        piece, joint = shapely.STRtree(self.joints).query(middles, predicate="dwithin", distance=1e-9)
        first = shapely.get_coordinates(shapely.get_point(pieces[piece], 0))
        middle = shapely.get_coordinates(middles[piece])
        along = middle - first
        along /= np.hypot(along[:, 0], along[:, 1])[:, None]
        normal = np.stack((-along[:, 1], along[:, 0]), axis=1) * BESIDE
        beside = np.full((2, len(piece)), -1)
        for side, points in enumerate((middle + normal, middle - normal)):
            which, panel = self.tree.query(shapely.points(points), predicate="within")
            beside[side, which] = panel
        # A joint that ends on open floor has the same panel on both sides and bounds neither.
        dividing = beside[0] != beside[1]
        pairs = {pair for side in beside for pair in zip(side[dividing].tolist(), joint[dividing].tolist()) if pair[0] >= 0}
        ids = self.ids["joints"]
        for panel, joint in sorted(pairs):
            self.panel_joints[panel].append(ids[joint])


def measured(sketch, floor):
    """All quantities, as a document."""
    joints = joint_works(sketch["joints"], floor)
    cracks = [crack_work(*pair) for pair in zip(sketch["cracks"], floor.crack_lengths.tolist())]
    spalls = [spall_work(record) for record in sketch.get("spalls", [])]
    steps, bands = lippage_works(sketch.get("lippage", []), floor)
    band_m2 = shapely.area(shapely.intersection(shapely.union_all(bands), floor.net)) if bands else 0.0
    blemish_m2 = float(shapely.area(floor.blemishes).sum())
    reach = floor.net.buffer(-(HEAD_RADIUS + EDGE_GAP)).buffer(HEAD_RADIUS, quad_segs=64)
    area = {"gross_m2": floor.outline.area, "net_m2": floor.net.area, "hand_edge_m2": floor.net.difference(reach).area}
    return {
        "job": sketch["job"],
        "area": area,
        "edge_m": floor.net.length,
        "panels": panel_works(floor),
        "joints": joints,
        "cracks": cracks,
        "spalls": spalls,
        "lippage": steps,
        "totals": totals(joints, cracks, spalls, steps, float(band_m2), blemish_m2),
    }


def panel_works(floor):
    rows = zip(shapely.area(floor.shapes).tolist(), floor.long.tolist(), floor.short.tolist(), floor.panel_joints,
               floor.panel_items, floor.panel_cracks.tolist())
    return [
        {"id": f"P{i + 1}", "area_m2": area, "length_m": long, "width_m": short, "aspect": long / short, "joints": joints,
         "items": items, "crack_m": crack}
        for i, (area, long, short, joints, items, crack) in enumerate(rows)
    ]


def joint_works(records, floor):
    """Saw and hand: what lies within reach of a wall is cut by hand, each stretch an end."""
    strip = shapely.buffer(floor.outline.boundary, CLEARANCE)
    shapely.prepare(strip)
    near = np.flatnonzero(shapely.intersects(strip, floor.joints))
    by_hand, ends = np.zeros(len(records)), np.zeros(len(records), dtype=int)
    stretches = shapely.intersection(shapely.intersection(floor.joints[near], floor.net), strip)
    by_hand[near] = shapely.length(stretches)
    # A joint that only touches the strip leaves a point there, which is no end.
    ends[near] = np.where(by_hand[near] > 1e-9, shapely.get_num_geometries(stretches), 0)
    rows = zip(records, floor.joint_lengths.tolist(), by_hand.tolist(), ends.tolist())
    return [joint_work(*row) for row in rows]


def joint_work(record, long, hand, ends):
    treatment = TREATMENTS[record["kind"]]
    width = max(length(record["width"], INCH), BLADE)
    work = {"id": record["id"], "kind": record["kind"], "treatment": treatment, "length_m": long, "saw_m": 0.0, "hand_m": 0.0,
            "hand_ends": 0, "chase_width_mm": 0.0, "chase_depth_mm": 0.0, "fill_l": 0.0, "sealant_l": 0.0, "rod_mm": None}
    if treatment == "honor":
        depth = min(max(width / 2, INCH / 4), INCH / 2)
        rod = next((rod for rod in RODS if rod + 1e-9 >= 1.25 * width), None)
        work.update(sealant_l=long * width * depth * 1000, rod_mm=rod and rod * 1000)
    else:
        depth = min(max(length(record["depth"], INCH), LEAST_DEPTH), DEEPEST)
        work.update(saw_m=long - hand, hand_m=hand, hand_ends=ends, chase_width_mm=width * 1000, chase_depth_mm=depth * 1000,
                    fill_l=long * width * depth * 1000)
    return work


def crack_work(record, long):
    width = length(record["width"], INCH)
    treatment, wide, depth = "prime", width, 0.0
    if width + 1e-9 >= INCH / 8:
        treatment, wide, depth = "chase", max(width, INCH / 4), INCH / 2
    elif width + 1e-9 >= INCH / 64:
        treatment, depth = "fill", INCH
    portion = {"length_m": long, "width_mm": width * 1000, "treatment": treatment, "depth_mm": depth * 1000,
               "fill_l": long * wide * depth * 1000}
    return {"id": record["id"], "length_m": long, "portions": [portion]}


def spall_work(record):
    """Those of the even mix are round and shallow: skimmed."""
    area = math.pi * (length(record["circle"]["diameter"], FOOT) / 2) ** 2
    depth = length(record["depth"], INCH)
    assert depth < INCH / 2, "cut out, which this script does not do"
    return {"id": record["id"], "area_m2": area, "volume_l": area * depth * 1000}


def lippage_works(records, floor):
    """Steps of one height between two stations of a straight joint, and the bands that feather them."""
    place = {name: i for i, name in enumerate(floor.ids["joints"])}
    ends = shapely.get_coordinates(floor.joints).reshape(-1, 2, 2)
    works, bands = [], []
    for record in records:
        step = length(record["step"], INCH)
        start, stop = length(record["from"], FOOT), length(record["to"], FOOT)
        a, b = ends[place[record["along"]]]
        unit = (b - a) / np.hypot(*(b - a))
        side = np.array([-unit[1], unit[0]]) * (1 if record["high"] == "left" else -1)
        if step + 1e-9 < HAND_FROM:
            continue
        p, q, across = a + start * unit, a + stop * unit, FEATHER * step * side
        bands.append(shapely.Polygon([p, q, q + across, p + across]))
        long = stop - start
        works.append({"id": record["id"], "max_step_mm": step * 1000, "hand_length_m": long,
                      "hand_area_m2": FEATHER * long * step, "removed_l": FEATHER / 2 * long * step**2 * 1000})
    return works, bands


def totals(joints, cracks, spalls, steps, band_m2, blemish_m2):
    def of(treatment):
        return sum(j["length_m"] for j in joints if j["treatment"] == treatment)

    portions = [p for c in cracks for p in c["portions"]]
    return {
        "chase_m": of("fill"),
        "saw_m": sum(j["saw_m"] for j in joints),
        "hand_cut_m": sum(j["hand_m"] for j in joints),
        "hand_ends": sum(j["hand_ends"] for j in joints),
        "fill_l": sum(j["fill_l"] for j in joints),
        "honor_m": of("honor"),
        "sealant_l": sum(j["sealant_l"] for j in joints),
        "crack_m": sum(p["length_m"] for p in portions),
        "crack_chase_m": sum(p["length_m"] for p in portions if p["treatment"] == "chase"),
        "crack_fill_l": sum(p["fill_l"] for p in portions),
        "patch_l": sum(s["volume_l"] for s in spalls),
        "hand_grind_m": sum(s["hand_length_m"] for s in steps),
        "hand_grind_m2": band_m2,
        "hand_grind_l": sum(s["removed_l"] for s in steps),
        "blemish_m2": blemish_m2,
    }


if __name__ == "__main__":
    takeoff(sys.argv[1], "/dev/stdout", {})
