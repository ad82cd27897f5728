"""What hangs on the areas and lines: sawn and hand-cut lengths, boxes of panels, patches, pour lines, blemishes, heights."""

import itertools
import math
import pathlib
import re

import numpy as np
import shapely
import yaml
from areas import GRID, smallest_rectangle
from lengths import FOOT, INCH
from lines import minus, segments, union
from sketch import LOADER, between, length_of

BUILT_IN = pathlib.Path(__file__).resolve().parent.parent.parent / "src/shop/built_in.yaml"
GALLON = 231 * INCH**3
# Round ends of what is near an obstacle, chords in a quarter turn: a micrometre and a half off at 3 in.
QUARTER = 128
PONDING = INCH / 4
NEIGHBOURS = 6


# Joints: what a saw reaches.


def obstacles(sketch):
    """Straight pieces of what stops a saw: walls but for their openings, and keep-outs that are not flush."""
    lines = []
    for number, wall in enumerate(sketch.walls, 1):
        cuts = union([sketch.stations(o) for o in sketch.slab.get("openings") or [] if int(o["wall"]) == number])
        lines += [between(wall, a, b) for a, b in minus([[0.0, length_of(wall)]], cuts) if b - a > 1e-9]
    for shape in sketch.obstacles:
        lines += [shapely.get_coordinates(r) for part in shapely.get_parts(shape) for r in [part.exterior, *part.interiors]]
    thin = [shapely.simplify(shapely.LineString(line), 1e-6) for line in lines]
    pieces = [np.stack(segments(shapely.get_coordinates(line)), axis=1) for line in thin]
    return shapely.STRtree(shapely.linestrings(np.concatenate(pieces)))


def near(line, tree, reach):
    """Stations of a path nearer than `reach` to an obstacle. Each obstacle's own two ends are round, so nothing hangs on its neighbours."""
    found, walked = [], 0.0
    for a, b in zip(*segments(line)):
        run = math.dist(a, b)
        span = shapely.LineString([a, b])
        for i in tree.query(span, predicate="dwithin", distance=reach):
            part = span.intersection(tree.geometries[i].buffer(reach, quad_segs=QUARTER))
            if part.geom_type == "LineString" and not part.is_empty:
                s = (shapely.get_coordinates(part) - a) @ ((b - a) / run)
                found.append((walked + s.min(), walked + s.max()))
        walked += run
    return union(found)


def treatment(sketch, item):
    rule = {"control": "fill", "construction": "fill", "isolation": "honor"} | (sketch.shop.get("treatments") or {})
    return item.get("treatment", rule[item["kind"]])


def by_hand(sketch, item):
    curved = any(isinstance(p, dict) and "to" in p for p in item.get("path", []))
    return curved or sketch.small(item.get("wander", "0")) > sketch.rule("chase", "saw_wander", '1/4"')


def joints(sketch, lines, reach=None):
    reach = reach or sketch.rule("chase", "saw_clearance", '3"')
    tree = obstacles(sketch)
    out = []
    for item, (name, line), scope in zip(sketch.file.get("joints") or [], sketch.joints, lines.scopes):
        whole = sum((b - a for a, b in scope), 0.0)
        row = {"id": name, "length_m": whole, "saw_m": 0.0, "hand_m": 0.0, "hand_ends": 0}
        if treatment(sketch, item) == "fill":
            if by_hand(sketch, item):
                row["hand_m"] = whole
            else:
                sawn = minus(scope, near(line, tree, reach))
                row["saw_m"] = sum((b - a for a, b in sawn), 0.0)
                row["hand_m"] = whole - row["saw_m"]
                row["hand_ends"] = len(minus(scope, sawn))
        out.append(row)
    return out


# Cracks by width.


def cracks(sketch, lines):
    out = []
    for item, (name, line), scope in zip(sketch.file.get("cracks") or [], sketch.cracks, lines.crack_scopes):
        end = length_of(line)
        starts = [sketch.plan(s) for s, _ in item.get("widths", [["0", ""]])]
        stops = [min(s, end) for s in starts[1:]] + [end]
        parts = [sum((max(0.0, min(b, d) - max(a, c)) for a, b in scope), 0.0) for c, d in zip(starts, stops) if d > c]
        out.append({"id": name, "length_m": sum((b - a for a, b in scope), 0.0), "portions_m": parts})
    return out


# Panels: the smallest rectangle about each.


def boxes(panels):
    """For each panel the area of its smallest rectangle and the longer side; no side where another direction does about as well."""
    out = []
    for panel in panels:
        _, u, w, h = smallest_rectangle(panel)
        area, long = 4 * w * h, 2 * max(w, h)
        out.append([area, long if clear(panel, u, area, long) else None])
    return out


def rectangles(shape):
    """Of the directions of all edges of the hull: unit vectors, and the sides along and across."""
    hull = shapely.get_coordinates(shapely.convex_hull(shape))
    runs = np.diff(hull, axis=0)
    u = runs / np.hypot(*runs.T)[:, None]
    v = np.stack([-u[:, 1], u[:, 0]], axis=1)
    return u, np.ptp(hull @ u.T, axis=0), np.ptp(hull @ v.T, axis=0)


def clear(shape, best, area, long):
    """Whether every rectangle of about the least area has about the same sides."""
    _, s, t = rectangles(shape)
    rivals = s * t < area * (1 + 1e-4)
    return bool((np.abs(np.maximum(s, t)[rivals] - long) < 1e-5).all())


# Pour lines.


def system(sketch, net):
    """The layers that are mixed: (name, areas in square metres of one batch after the other on so much floor)."""
    book = yaml.load(BUILT_IN.read_text(encoding="utf-8"), Loader=LOADER)
    name, own = sketch.coating.get("system"), sketch.shop
    days = own.get("days") or {}
    hands = min(int(days.get("crew", book["days"]["crew"])), 2)
    laid = float(book["days"]["works"]["coat"]["rate"].split()[0]) * FOOT**2 * hands / 2 / 60
    for layer in ((book["systems"] | (own.get("systems") or {})).get(name) or {"layers": []})["layers"]:
        if "kit" not in layer:
            continue
        kit, loss = volume(layer["kit"]), share(layer.get("loss", "0%"))
        if "coverage" in layer:
            number, unit = layer["coverage"].split()
            cover = float(number) * {"ft2/gal": FOOT**2 / GALLON, "m2/L": 1000.0}[unit]
        else:
            cover = share(layer["solids"]) / thickness(layer["dft"])
        cover *= 1 - loss
        most = volume(layer["batch"]) if "batch" in layer else min(kit, 3 * GALLON)
        if "pot_life" in layer:
            most = min(most, 0.8 * pot_life(layer["pot_life"], warmest(sketch)) * laid / cover)
        pail = 1e-3 if sketch.metric else GALLON / 4
        parts = sum(map(float, layer["mix"].split(":"))) if "mix" in layer else 0
        yield layer["name"], [v * cover for v in batches(net / cover, most, kit, pail, parts)]


def warmest(sketch):
    """The warmest slab that the sketch speaks of, in degrees Fahrenheit; 70 where it is silent."""
    tests = sketch.file.get("tests") or {}
    told = [day["slab"] for day in tests.get("forecast") or []] + [tests[k] for k in ("slab_temperature",) if k in tests]
    return max(map(fahrenheit, told), default=70.0)


def fahrenheit(text):
    number, unit = re.fullmatch(r"\s*(-?[0-9.]+)\s*°?\s*([FC])\s*", text).groups()
    return float(number) if unit == "F" else float(number) * 1.8 + 32


def pot_life(rows, at):
    """Minutes: straight between the rows, the first for what is colder, half for every 18 °F beyond the last."""
    xs, ys = [fahrenheit(row[0]) for row in rows], [minutes(row[1]) for row in rows]
    return float(np.interp(at, xs, ys)) * 0.5 ** (max(at - xs[-1], 0) / 18)


def minutes(text):
    number, unit = text.split()
    return float(number) * {"min": 1, "h": 60}[unit]


def batches(whole, most, kit, pail, parts):
    """Volumes: whole kits if equal batches come within 15 % of one, else quarts or litres dealt out evenly."""
    up = lambda x: max(math.ceil(x - 1e-9), 1)
    n = up(whole / most)
    equal = whole / n
    if kit <= most * (1 + 1e-9) and abs(kit - equal) <= 0.15 * kit:
        n = up(whole / kit)
        last = whole - (n - 1) * kit
        last = kit if kit - last <= 0.15 * kit else min(up(last / pail) * pail, kit)
        return [kit] * (n - 1) + [last]
    at_once = math.floor(most / pail + 1e-9)
    if at_once < 1:
        return [equal] * n
    pails = up(whole / pail)
    n = up(pails / at_once)
    step = pail * parts
    if parts and math.floor(most / step + 1e-9) >= 1:
        steps = up(whole / step)
        if up(steps / math.floor(most / step + 1e-9)) == n and steps % n == 0 and steps * step - whole <= pail * (1 + 1e-9):
            return [steps // n * step] * n
    return [(pails // n + (i < pails % n)) * pail for i in range(n)]


def share(text):
    return float(text.rstrip("%")) / 100


def volume(text):
    number, unit = text.split()
    return float(number) * {"gal": GALLON, "L": 1e-3}[unit]


def thickness(text):
    number, unit = text.split()
    return float(number) * {"mil": INCH / 1000, "um": 1e-6, "mm": 1e-3}[unit]


def away(sketch):
    """The direction in which the material is pulled."""
    side = sketch.coating["pour_from"]
    if side in ("N", "E", "S", "W"):
        return {"N": (0.0, -1.0), "E": (-1.0, 0.0), "S": (0.0, 1.0), "W": (1.0, 0.0)}[side]
    wall = sketch.walls[int(str(side).split()[-1]) - 1]
    (ax, ay), (bx, by) = wall[0], wall[-1]
    run = math.dist(wall[0], wall[-1]) * (1 if sketch.turns_left else -1)
    return (-(by - ay) / run, (bx - ax) / run)


def pour_lines(sketch, areas):
    """For each layer its lines as (distance, area behind, length of the line on the floor)."""
    if "pour_from" not in sketch.coating:
        return []
    c, s = away(sketch)
    turned = shapely.transform(areas.k, lambda p: np.stack([p[:, 0] * c + p[:, 1] * s, p[:, 1] * c - p[:, 0] * s], axis=1))
    low, bottom, high, top = turned.bounds

    def strip(d):
        return shapely.intersection(turned, shapely.box(low - 1, bottom - 1, low + d, top + 1))

    def line(wanted, last):
        if last:
            return [high - low, areas.k.area, None]
        d = root(lambda x: strip(x).area - wanted, 0.0, high - low, 1e-8)
        across = shapely.LineString([(low + d, bottom - 1), (low + d, top + 1)])
        return [d, wanted, turned.intersection(across).length]

    out = []
    for name, each in system(sketch, areas.k.area):
        behind = list(itertools.accumulate(each))
        out.append({"layer": name, "lines": [line(area, k + 1 == len(each)) for k, area in enumerate(behind)]})
    return out


def root(f, low, high, close):
    """Where a growing function is zero: false position, halved where one end stays (the Illinois rule)."""
    at_low, at_high, kept = f(low), f(high), 0
    while high - low > close:
        x = high - at_high * (high - low) / (at_high - at_low)
        x = min(max(x, low + close / 2), high - close / 2)
        y = f(x)
        if y > 0:
            high, at_high = x, y
            at_low *= 0.5 if kept == 1 else 1.0
            kept = 1
        else:
            low, at_low = x, y
            at_high *= 0.5 if kept == -1 else 1.0
            kept = -1
    return (low + high) / 2


# Blemishes and heights.


def blemishes(sketch, areas):
    shapes = [(i["id"], sketch.shape(i)) for i in sketch.file.get("blemishes") or []]
    return [{"id": name, "area_m2": shape.intersection(areas.k, **GRID).area} for name, shape in shapes]


def plane(points):
    """Constant and slopes of the plane with the least sum of squares; None for points on a line."""
    p = np.array(points)
    left = np.column_stack([np.ones(len(p)), p[:, 0] - p[:, 0].mean(), p[:, 1] - p[:, 1].mean()])
    (z, a, b), _, rank, _ = np.linalg.lstsq(left, p[:, 2], rcond=None)
    return (z - a * p[:, 0].mean() - b * p[:, 1].mean(), a, b) if rank == 3 else None


def levels(sketch):
    """The fall of the plane through all heights, the furthest from it, and the points below their neighbours."""
    points = [(*sketch.point(i[:2]), sketch.small(i[2])) for i in sketch.file.get("levels") or [] if isinstance(i, list)]
    if len(points) < 3 or (found := plane(points)) is None:
        return None
    z, a, b = found
    worst = max(abs(h - z - a * x - b * y) for x, y, h in points)
    low = [(i + 1, d) for i, d in enumerate(below(points)) if d is not None and d > PONDING + 1e-9]
    return {"slope": math.hypot(a, b), "worst_m": worst, "ponding": [[i, d] for i, d in low]}


def below(points):
    """How far each point lies below the plane through its six nearest."""
    for i, (x, y, h) in enumerate(points):
        others = sorted((math.dist((x, y), q[:2]), j) for j, q in enumerate(points) if j != i)[:NEIGHBOURS]
        found = plane([points[j] for _, j in others])
        yield None if found is None else found[0] + found[1] * x + found[2] * y - h
