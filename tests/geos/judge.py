"""Refuses a random floor on which a rule changes by a jump within the precision of the input."""

import math

import numpy as np
import shapely
from areas import TOUCH, smallest_rectangle
from further import PONDING, below, joints, rectangles
from lines import rings_of, segments
from measure import ON_JOINT, filled_lines, obstacles, parts, small, sorted_out
from patches import APART as APART_PATCHES
from patches import FILLED, LARGEST, POP_OUT, alone, merged, taken_in

INCH = 0.0254
NEAR = (1.93 * INCH, 2.07 * INCH)  # about the 2 in within which an end is taken to reach
OVER = 0.085 * INCH  # lateral distance of doubled paths: at most 1/16 in, and rounding
APART = 3 * INCH
ANGLE = math.radians(12)


def unfit(sketch, areas):
    """None, or why the floor itself will not do: looked at first, because it costs little."""
    if areas.k.area < 0.5 * areas.p.area:
        return "little floor"
    if areas.r.geom_type != "Polygon" or areas.k.geom_type != "Polygon":
        return "floor in pieces"
    if sketch.misclosure is not None and not closes(sketch, sketch.misclosure):
        return "misclosure"
    for check in (inside_checks, edge_checks, opening_checks):
        if why := check(sketch, areas):
            return why
    return None


def crossed(areas, lines, panels):
    """None, or why the joints will not do."""
    if any(2 * p.area / p.length < 0.06 for p in panels):
        return "sliver"
    for (name, _), length in zip(lines.sketch.joints, lines.joint_lengths()):
        if 0 < length < 0.05:
            return f"{name} is all but wholly on top of another joint or off the floor"
    return end_checks(areas, lines) or angle_checks(areas, lines) or saw_checks(lines) or patch_checks(lines) or level_checks(lines.sketch)


def slotted(areas, hand_edge):
    """A slot that the grinder just fits into: a hundredth of a millimetre makes a difference that it should not."""
    wider = areas.hand_edge(areas.gap + 1e-5)
    return abs(wider - hand_edge) > 1e-5 * 4 * areas.solid.boundary.length


def closes(sketch, off):
    """Either exactly, or clearly between a quarter inch and the tolerance."""
    walked = sum(shapely.LineString(w).length for w in sketch.walls)
    return off < 1e-9 or 0.4 * INCH < off < 0.9 * max(2 * INCH, walked / 300)


def misplaced(sketch):
    """A record wholly off the floor is an error of the sketch, and one that all but misses it would be decided by a hair."""
    if not sketch.outline.is_valid or sketch.outline.area < 8:
        return "outline"
    records = (sketch.file.get("spalls") or []) + (sketch.file.get("blemishes") or [])
    for shape in sketch.keep_outs + sketch.uncoated + [sketch.shape(item) for item in records]:
        shape = shape.simplify(1e-3)
        if shape.intersection(sketch.outline).area < 0.05 * shape.area:
            return "a record off the floor"
    if any(shapely.LineString(line).intersection(sketch.outline).length < 0.1 for _, line in sketch.joints):
        return "joint off the floor"
    return None


def inside_checks(sketch, areas):
    if any(shapely.LineString(line).intersection(areas.k).length < 0.1 for _, line in sketch.cracks):
        return "crack off the floor"
    return None


def end_checks(areas, lines):
    for i, end, _ in lines.ends():
        name, here = lines.pieces[i][0], shapely.Point(end)
        gaps = sorted(((d.distance(here), d) for d in lines.dividers(i)), key=lambda g: g[0])
        if any(NEAR[0] < g < NEAR[1] for g, _ in gaps):
            return f"{name} ends about two inches off something"
        feet = [d.interpolate(d.project(here)) for g, d in gaps if TOUCH < g < NEAR[1]]
        if gaps[0][0] > TOUCH and any(feet[0].distance(f) > TOUCH for f in feet[1:]):
            return f"{name} ends near two things"
    return None


def saw_checks(lines):
    """A joint that runs along an obstacle just as far off as the saw stops: a hundredth of a millimetre decides over feet of it."""
    clearance = lines.sketch.rule("chase", "saw_clearance", '3"')
    low, high = (joints(lines.sketch, lines, clearance + d) for d in (-1e-5, 1e-5))
    if any(abs(a["hand_m"] - b["hand_m"]) > 1e-3 or a["hand_ends"] != b["hand_ends"] for a, b in zip(low, high)):
        return "a joint grazes an obstacle"
    return None


def two_minded(shape):
    """Whether two directions give rectangles of about the least area."""
    u, s, t = rectangles(shape)
    sizes = s * t
    turned = np.arctan2(u[:, 1], u[:, 0]) - math.atan2(*u[np.argmin(sizes)][::-1])
    off = np.abs((turned + math.pi / 4) % (math.pi / 2) - math.pi / 4)
    return bool(((sizes < sizes.min() * (1 + 1e-4)) & (off > 1e-3)).any())


def patch_checks(lines):
    """A patch hangs on the direction of a rectangle, on gaps, and on whether a small spall lies on a joint."""
    sketch, found = lines.sketch, parts(lines.sketch, lines.areas)
    filled = filled_lines(sketch, lines)
    for item in sketch.file.get("spalls") or []:
        shape, whole = found[item["id"]], sketch.shape(item)
        if shape.area < 1e-4 * whole.area:
            if shape.area > 0:
                return "a spall that all but misses the floor"
            continue
        if small(shape) and any(abs(shape.distance(line) - ON_JOINT) < 1e-5 for line in filled):
            return "a small spall hardly on a joint"
        if ("polygon" in item or shape.area < whole.area * (1 - 1e-7)) and two_minded(shape):
            return "a spall with two rectangles"
        if abs(2 * max(smallest_rectangle(shape)[2:]) - POP_OUT) < 1e-5:
            return "a spall about as long as a pop-out"
    out, others = sorted_out(sketch, lines, found)
    pairs, (joints, keep_outs) = [], obstacles(sketch, lines)
    done = merged([alone(name, found[name]) for name in out], joints, keep_outs, pairs)
    for one, two, both in pairs:
        area = both.shape.area
        if abs(one.shape.distance(two.shape) - APART_PATCHES) < 1e-4 or abs(area - LARGEST) < 1e-4 or abs(both.filled() / area - FILLED) < 1e-4:
            return "patches that hardly become one"
        if two_minded(shapely.union_all(both.parts)):
            return "a patch with two rectangles"
        wide, narrow = both.shape.buffer(1e-4 - ON_JOINT, join_style="mitre"), both.shape.buffer(-1e-4 - ON_JOINT, join_style="mitre")
        if wide.intersects(joints) != narrow.intersects(joints) or both.shape.buffer(1e-4).intersects(keep_outs) != both.shape.buffer(-1e-3).intersects(keep_outs):
            return "a patch that grazes a joint or a keep-out"
    for patch in taken_in(done, found, others):
        wide, narrow = patch.shape.buffer(1e-5), patch.shape.buffer(-1e-5)
        if any(wide.contains(part) != narrow.contains(part) for part in found.values()):
            return "a spall hardly in a patch"
    return None


def level_checks(sketch):
    points = [(*sketch.point(i[:2]), sketch.small(i[2])) for i in sketch.file.get("levels") or []]
    if any(d is not None and abs(d - PONDING) < 1e-6 for d in (below(points) if len(points) > 2 else [])):
        return "a point a quarter inch low"
    return None


def pairs(lines, areas):
    """Segments of every path against those of the other paths and of the floor's edges."""
    groups = [segments(line) for _, line in lines.sketch.joints]
    edges = [segments(shapely.get_coordinates(r)) for r in rings_of(areas.r)]
    edges += [segments(shapely.get_coordinates(r)) for r in rings_of(areas.k)]
    for i, (a, b) in enumerate(groups):
        tree = shapely.STRtree(shapely.linestrings(np.stack([a, b], axis=1)))
        for j, (c, d) in enumerate(groups[i + 1 :] + edges):
            probes = shapely.linestrings(np.stack([c, d], axis=1))
            for k, n in tree.query(probes, predicate="dwithin", distance=APART).T:
                yield a[n], b[n], c[k], d[k], j >= len(groups) - i - 1


def angle_checks(areas, lines):
    for a, b, c, d, edge in pairs(lines, areas):
        u, v = (b - a) / math.dist(a, b), (d - c) / math.dist(c, d)
        if abs(u[0] * v[1] - u[1] * v[0]) > math.sin(ANGLE):
            continue
        s = sorted([(c - a) @ u, (d - a) @ u])
        if s[1] < 1e-6 or s[0] > math.dist(a, b) - 1e-6:
            continue
        n = np.array([-u[1], u[0]])
        off = max(abs((c - a) @ n), abs((d - a) @ n))
        if off > (1e-8 if edge else OVER):
            return "nearly parallel"
    return None


def edge_checks(sketch, areas):
    """No gap between keep-outs, uncoated parts and walls that is nearly shut, and no shallow crossing of their edges."""
    shapes = sketch.keep_outs + sketch.uncoated
    rings = [shapely.LineString(r) for s in shapes for r in rings_of(s)] + [areas.p.exterior]
    for i, a in enumerate(rings):
        for b in rings[i + 1 :]:
            meet = a.intersection(b)
            if not meet.is_empty and meet.length > 0:
                continue
            if a.distance(b) < 0.01 and not a.intersects(b):
                return "edges nearly touch"
    for i, ring in enumerate(rings):
        corners = shapely.points(shapely.get_coordinates(ring)[:64])
        for other in rings[:i] + rings[i + 1 :]:
            if len(shapely.get_coordinates(other)) < 64:
                away = shapely.distance(corners, other)
                if ((away > 1e-9) & (away < 0.005)).any():
                    return "corner nearly on an edge"
    return None


def opening_checks(_, areas):
    lines = areas.openings
    if any(a.distance(b) < 0.02 for i, a in enumerate(lines) for b in lines[i + 1 :]):
        return "openings meet"
    return None
