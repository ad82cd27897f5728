"""Outlines of real buildings, taken as floors, with random joints laid over them.

The data: layer `buildings` of the sample `bubenec.gpkg` (part of Prague-Bubeneč) that the Python package
momepy carries in its wheel under the BSD 3-Clause licence (momepy-LICENSE.txt). Coordinates are
projected metres (EPSG:3857), moved to the origin and rounded to a millimetre; the projection stretches
the buildings by half, which is no matter here. Nothing is fetched: the file comes with the package.
"""

import hashlib
import importlib.metadata
import importlib.util
import math
import pathlib
import sqlite3

import shapely
from random_floors import INCH, Dice, Pen

SOURCE = {
    "package": "momepy",
    "version": "0.11.0",
    "file": "momepy/datasets/bubenec.gpkg",
    "layer": "buildings",
    "sha256": "fab4f3047ce5a63dec99943a09e3c8dba1f18d9a4e3b7b21ea377e28a67a55a4",
    "licence": "BSD-3-Clause, Copyright (c) 2018-2021, Martin Fleischmann and PySAL Developers (momepy-LICENSE.txt)",
    "changes": "moved to the origin, rounded to a millimetre, joints added",
}


def outlines():
    """Feature number → polygon, moved to the origin. Reads the GeoPackage as the SQLite file that it is."""
    if importlib.metadata.version("momepy") != SOURCE["version"]:
        raise SystemExit(f"momepy {SOURCE['version']} is wanted")
    # `find_spec` of a top-level package does not run it, so its own dependencies are not needed.
    folder = pathlib.Path(importlib.util.find_spec("momepy").origin).parent
    data = folder / "datasets" / "bubenec.gpkg"
    if hashlib.sha256(data.read_bytes()).hexdigest() != SOURCE["sha256"]:
        raise SystemExit(f"{SOURCE['file']} is not the file that the reference was made from")
    with sqlite3.connect(f"file:{data}?mode=ro", uri=True) as db:
        rows = db.execute("select fid, geom from buildings order by fid").fetchall()
    return {fid: at_origin(geometry(blob)) for fid, blob in rows}


def geometry(blob):
    """A GeoPackage blob: 8 bytes, an envelope whose size three bits of the flags tell, then WKB."""
    envelope = {0: 0, 1: 32, 2: 48, 3: 48, 4: 64}[(blob[3] >> 1) & 7]
    return shapely.from_wkb(blob[8 + envelope :])


def at_origin(polygon):
    x, y = polygon.bounds[:2]

    def ring(points):
        moved = [(round(px - x, 3) + 0.0, round(py - y, 3) + 0.0) for px, py in shapely.get_coordinates(points)[:-1]]
        return [p for p, q in zip(moved, moved[1:] + moved[:1]) if p != q]

    return shapely.Polygon(ring(polygon.exterior), [ring(i) for i in polygon.interiors])


def joints(dice, pen, polygon):
    """A grid along the building's longest wall, a joint aslant, one that ends on the floor, one that stops short."""
    pts = shapely.get_coordinates(polygon.exterior)
    a, b = max(zip(pts, pts[1:]), key=lambda e: math.dist(*e))
    t = math.atan2(b[1] - a[1], b[0] - a[0]) + dice.real(-0.02, 0.02)
    c, s = math.cos(t), math.sin(t)
    turned = [(x * c + y * s, y * c - x * s) for x, y in pts]
    lows = [min(p[i] for p in turned) for i in (0, 1)]
    spans = [max(p[i] for p in turned) - lows[i] for i in (0, 1)]

    def point(u, v):
        u, v = lows[0] + u * spans[0], lows[1] + v * spans[1]
        return (pen.at(u * c - v * s), pen.at(u * s + v * c))

    paths = []
    for axis in (0, 1):
        count = min(6, max(1, round(spans[axis] / dice.real(4, 7)) - 1))
        for i in range(count):
            f = (i + 1 + dice.real(-0.25, 0.25)) / (count + 1)
            ends = (-0.03, 1.03) if dice.chance(0.8) else (-0.03, dice.real(0.4, 0.7))
            paths.append([point(f, e) if axis == 0 else point(e, f) for e in ends])
    if dice.chance(0.5):
        paths.append([point(dice.real(0.1, 0.9), -0.05), point(dice.real(0.1, 0.9), 1.05)])
    if dice.chance(0.5):
        (ax, ay), (bx, by) = dice.one(paths)
        run, f, gap = math.dist((ax, ay), (bx, by)), dice.real(0.3, 0.7), dice.real(0.5, 1.85) * INCH
        nx, ny = -(by - ay) / run, (bx - ax) / run
        paths.append([(pen.at(ax + (bx - ax) * f + nx * d), pen.at(ay + (by - ay) * f + ny * d)) for d in (gap, dice.real(1.5, 8))])
    if dice.chance(0.5):
        ends = dice.one(paths)
        paths.append([ends[1], ends[0]])
    return paths


def text_of(polygon):
    def text(fid, attempt):
        dice, pen = Dice(fid * 1000 + attempt), Pen("metric")
        lines = [
            "slabwalk: 1",
            f"job: {{name: building {fid}}}",
            "units: metric",
            "slab:",
            "  post_tension: none",
            f"  outline: {pen.path([tuple(p) for p in shapely.get_coordinates(polygon.exterior)[:-1]])}",
        ]
        if polygon.interiors:
            lines.append("  keep_outs:")
            for i, ring in enumerate(polygon.interiors):
                lines.append(f"    - {{id: K{i + 1}, what: yard, polygon: {pen.path([tuple(p) for p in shapely.get_coordinates(ring)[:-1]])}}}")
        lines.append("joints:")
        lines += [f"  - {{id: J{i + 1}, kind: control, path: {pen.path(p)}}}" for i, p in enumerate(joints(dice, pen, polygon))]
        return "\n".join(lines) + "\n"

    return text
