"""Lippage: where the step is too high for the machine, and the band that feathers it."""

import math

import numpy as np
import shapely
from areas import GRID, sector
from sketch import ARC_CHORDS, COMPASS, length_of

# The chords of an arc turn by no more than this; random bends turn more.
SMOOTH = 2.01 * math.pi / ARC_CHORDS


def profile(sketch, item):
    """Stretches of (station, step, station, step), metres, and the greatest step read; a null reading breaks the profile."""
    if "readings" in item:
        readings = [(sketch.plan(s), None if h in ("null", "~", "") else sketch.small(h)) for s, h in item["readings"]]
    else:
        step = sketch.small(item["step"])
        readings = [(sketch.plan(item["from"]), step), (sketch.plan(item["to"]), step)]
    stretches = [(a, x, b, y) for (a, x), (b, y) in zip(readings, readings[1:]) if x is not None and y is not None]
    return stretches, max(h for _, h in readings if h is not None)


def high_parts(stretches, threshold):
    """The parts of the stretches whose step is at least the threshold, cut exactly where it is crossed."""
    for a, x, b, y in stretches:
        if max(x, y) < threshold - 1e-12:
            continue
        if min(x, y) < threshold:
            at = a + (b - a) * (threshold - x) / (y - x)
            a, x, b, y = (at, threshold, b, y) if x < y else (a, x, at, threshold)
        if b - a > 1e-12:
            yield a, x, b, y


def high_side(item, line):
    """+1 if the high side is on the left of the path, -1 on the right."""
    if item["high"] in ("left", "right"):
        return 1 if item["high"] == "left" else -1
    (ax, ay), (bx, by) = line[0], line[-1]
    nx, ny = COMPASS[item["high"]]
    return 1 if (bx - ax) * ny - (by - ay) * nx > 0 else -1


def directions(line):
    """For each chord of a path its direction at both ends: on an arc, whose chords turn little, the arc's own; on a straight run the run's."""
    chord = [math.atan2(b[1] - a[1], b[0] - a[0]) for a, b in zip(line, line[1:])]
    turns = [(b - a + math.pi) % (2 * math.pi) - math.pi for a, b in zip(chord, chord[1:])]
    smooth = [t if abs(t) < SMOOTH else None for t in turns]
    for angle, before, after in zip(chord, [None] + smooth, smooth + [None]):
        half = next((t / 2 for t in (before, after) if t is not None), 0.0)
        yield (angle - (half if before is None else before / 2), angle + (half if after is None else after / 2))


def band(line, parts, side, feather):
    """The feathered band as polygons: a strip per chord, a fan where the path bends away from it."""
    pts = np.asarray(line)
    at = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(pts, axis=0).T))])
    bearing = list(directions(line))
    for a, x, b, y in parts:
        cuts = [a] + [s for s in at if a + 1e-9 < s < b - 1e-9] + [b]
        last = None
        for s, t in zip(cuts, cuts[1:]):
            i = max(0, int(np.searchsorted(at, (s + t) / 2)) - 1)
            strip, angles = [], []
            for z in (s, t):
                share = (z - at[i]) / (at[i + 1] - at[i])
                angle = bearing[i][0] + share * (bearing[i][1] - bearing[i][0]) + side * math.pi / 2
                p, width = pts[i] + (pts[i + 1] - pts[i]) * share, feather * (x + (y - x) * (z - a) / (b - a))
                strip += [(p, p + width * np.array([math.cos(angle), math.sin(angle)]))]
                angles.append(angle)
            yield shapely.Polygon([strip[0][0], strip[1][0], strip[1][1], strip[0][1]])
            if last is not None:
                turn = (angles[0] - last + math.pi) % (2 * math.pi) - math.pi
                if turn * side < -1e-7:
                    yield shapely.Polygon(sector(tuple(strip[0][0]), math.dist(*strip[0]), last, turn))
            last = angles[1]


def lippage(sketch, net):
    """Each record by the formulas of the specification, and the area of all bands on the floor."""
    threshold = sketch.rule("grinding", "hand_from", '3/16"')
    feather = float((sketch.shop.get("grinding") or {}).get("feather", "12"))
    records, strips = [], []
    for item in sketch.file.get("lippage") or []:
        along = item["along"]
        line = sketch.line(along) if isinstance(along, str) else sketch.path(along)
        stretches, greatest = profile(sketch, item)
        if any(sketch.plan(s) > length_of(line) + 1e-9 for s, _ in item.get("readings", [])):
            raise ValueError("station beyond the end")
        parts = list(high_parts(stretches, threshold))
        records.append({
            "id": item["id"],
            "max_step_mm": greatest * 1000,
            "hand_length_m": sum((b - a for a, _, b, _ in parts), 0.0),
            "hand_area_m2": sum((feather * (b - a) * (x + y) / 2 for a, x, b, y in parts), 0.0),
            "removed_l": sum((feather / 2 * (b - a) * (x * x + x * y + y * y) / 3 for a, x, b, y in parts), 0.0) * 1000,
        })
        strips += band(line, parts, high_side(item, line), feather)
    return records, shapely.union_all(strips, **GRID).intersection(net, **GRID).area
