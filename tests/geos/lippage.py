"""Lippage: where the step is too high for the machine, and the band that feathers it."""

import math

import numpy as np
import shapely
from areas import GRID, sector
from sketch import COMPASS


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


def band(line, parts, side, feather):
    """The feathered band as polygons: a strip per straight run, a fan where the path bends away from it."""
    pts = np.asarray(line)
    at = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(pts, axis=0).T))])
    for a, x, b, y in parts:
        cuts = [a] + [s for s in at if a + 1e-9 < s < b - 1e-9] + [b]
        last = None
        for s, t in zip(cuts, cuts[1:]):
            i = max(0, int(np.searchsorted(at, (s + t) / 2)) - 1)
            u = (pts[i + 1] - pts[i]) / (at[i + 1] - at[i])
            n = np.array([-u[1], u[0]]) * side * feather
            p, q = pts[i] + u * (s - at[i]), pts[i] + u * (t - at[i])
            h, k = (x + (y - x) * (z - a) / (b - a) for z in (s, t))
            yield shapely.Polygon([p, q, q + n * k, p + n * h])
            angle = math.atan2(n[1], n[0])
            if last is not None:
                turn = (angle - last + math.pi) % (2 * math.pi) - math.pi
                if turn * side < -1e-12:
                    yield shapely.Polygon(sector(tuple(p), feather * h, last, turn))
            last = angle


def lippage(sketch, net):
    """Each record by the formulas of the specification, and the area of all bands on the floor."""
    threshold = sketch.rule("grinding", "hand_from", '3/16"')
    feather = float((sketch.shop.get("grinding") or {}).get("feather", "12"))
    records, strips = [], []
    for item in sketch.file.get("lippage") or []:
        along = item["along"]
        line = sketch.line(along) if isinstance(along, str) else sketch.path(along)
        stretches, greatest = profile(sketch, item)
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
