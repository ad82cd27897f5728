"""Joints and cracks: length in scope, counted once, and the panels that the joints make."""

import functools
import math

import numpy as np
import shapely
from areas import GRID, TOUCH

WITHIN = 0.0254 / 8  # paths nearer than this run on top of each other
ALONG = math.atan(1 / 48)  # and only if they run the same way, to a quarter inch in a foot


def segments(line):
    pts = np.asarray(line)
    keep = np.concatenate([[True], np.hypot(*np.diff(pts, axis=0).T) > 1e-12])
    pts = pts[keep]
    return pts[:-1], pts[1:]


def union(intervals):
    out = []
    for a, b in sorted(intervals):
        if out and a <= out[-1][1] + 1e-9:
            out[-1][1] = max(out[-1][1], b)
        else:
            out.append([a, b])
    return out


def minus(intervals, taken):
    out = []
    for a, b in intervals:
        for c, d in taken:
            if d <= a or c >= b:
                continue
            if c > a:
                out.append([a, c])
            a = max(a, d)
        if b > a:
            out.append([a, b])
    return out


def total(intervals):
    return sum((b - a for a, b in intervals), 0.0)


def with_edges(region):
    """A region of which its edges are a part."""
    return region.buffer(TOUCH / 10, join_style="mitre")


def inside(line, region):
    """Stations of a path between which it lies in a region."""
    starts, ends = segments(line)
    pieces = shapely.intersection(shapely.linestrings(np.stack([starts, ends], axis=1)), region)
    found, walked = [], 0.0
    for a, b, piece in zip(starts, ends, pieces):
        run = math.dist(a, b)
        u = (b - a) / run
        for part in shapely.get_parts(piece):
            if part.geom_type == "LineString" and not part.is_empty:
                s = (shapely.get_coordinates(part) - a) @ u
                found.append((walked + s.min(), walked + s.max()))
        walked += run
    return union(found)


def shadow(a, b, c, d):
    """Interval along a-b that runs on top of c-d, by right angles dropped from c and d; and the mean distance."""
    run = math.dist(a, b)
    u = (b - a) / run
    n = np.array([-u[1], u[0]])
    (s0, s1), (t0, t1) = ((c - a) @ u, (d - a) @ u), ((c - a) @ n, (d - a) @ n)
    if math.hypot(s1 - s0, t1 - t0) < 1e-12 or abs(t1 - t0) > abs(s1 - s0) * math.tan(ALONG):
        return None
    if s0 > s1:
        s0, s1, t0, t1 = s1, s0, t1, t0
    low, high, slope = max(0.0, s0), min(run, s1), (t1 - t0) / (s1 - s0)
    # Where |t0 + slope (s - s0)| <= WITHIN.
    if abs(slope) > 1e-15:
        x, y = sorted((s0 + (k - t0) / slope for k in (-WITHIN, WITHIN)))
        low, high = max(low, x), min(high, y)
    elif abs(t0) > WITHIN:
        return None
    if high - low < 1e-9:
        return None
    return low, high, abs(t0 + slope * ((low + high) / 2 - s0))


def covered(lines, count=None):
    """For each line, the stations where it runs on top of an earlier one; and the area between all such pairs. Only the last `count`, if given."""
    taken, between = [], 0.0
    skipped = 0 if count is None else len(lines) - count
    for j, (_, line) in enumerate(lines[skipped:], skipped):
        starts, ends = segments(line)
        boxes = shapely.STRtree(shapely.linestrings(np.stack([starts, ends], axis=1)))
        offsets = np.concatenate([[0.0], np.cumsum(np.hypot(*(ends - starts).T))])
        found = []
        for _, earlier in lines[:j]:
            cs, ds = segments(earlier)
            probes = shapely.linestrings(np.stack([cs, ds], axis=1))
            for k, i in boxes.query(probes, predicate="dwithin", distance=2 * WITHIN).T:
                if hit := shadow(starts[i], ends[i], cs[k], ds[k]):
                    found.append((offsets[i] + hit[0], offsets[i] + hit[1]))
                    between += (hit[1] - hit[0]) * hit[2]
        taken.append(union(found))
    return taken, between


def piece(line, start, end):
    """The part of a path between two stations, with the path's own points where they fall on its ends."""
    pts = np.asarray(line)
    at = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(pts, axis=0).T))])

    def point(s):
        i = int(np.argmin(abs(at - s)))
        if abs(at[i] - s) < 1e-9:
            return tuple(pts[i])
        i = int(np.searchsorted(at, s)) - 1
        return tuple(pts[i] + (pts[i + 1] - pts[i]) * ((s - at[i]) / (at[i + 1] - at[i])))

    inner = [tuple(p) for p, s in zip(pts, at) if start + 1e-9 < s < end - 1e-9]
    return [point(start)] + inner + [point(end)]


class Lines:
    """The joints of a sketch against its areas."""

    def __init__(self, sketch, areas):
        self.sketch, self.areas = sketch, areas
        self.snap = sketch.rule("panels", "snap", '2"')
        self.taken, self.slack = covered(sketch.joints)
        self.pieces = []
        for (name, line), taken in zip(sketch.joints, self.taken):
            whole = float(np.sum(np.hypot(*np.diff(np.asarray(line), axis=0).T)))
            self.pieces += [(name, piece(line, a, b)) for a, b in minus([[0.0, whole]], taken) if b - a > 1e-6]

    @functools.cached_property
    def scopes(self):
        """Stations between which each joint counts. Where a path only touches the floor there is a stretch of no length."""
        floor = with_edges(self.areas.k)
        counted = [minus(inside(line, floor), t) for (_, line), t in zip(self.sketch.joints, self.taken)]
        return [[(a, b) for a, b in c if b - a > TOUCH] for c in counted]

    @functools.cached_property
    def crack_scopes(self):
        """Stations between which each crack counts: joints go before cracks."""
        floor = with_edges(self.areas.k)
        cracks = self.sketch.cracks
        taken, _ = covered(self.sketch.joints + cracks, len(cracks))
        return [[(a, b) for a, b in minus(inside(line, floor), t) if b - a > TOUCH] for (_, line), t in zip(cracks, taken)]

    def joint_lengths(self):
        return [total(c) for c in self.scopes]

    def ends(self):
        """The ends that lie on the floor: (piece number, point, point next to it)."""
        reach = self.areas.r.buffer(TOUCH)
        for i, (_, line) in enumerate(self.pieces):
            if math.dist(line[0], line[-1]) < 1e-9:
                continue
            for e, beside in ((line[0], line[1]), (line[-1], line[-2])):
                if reach.intersects(shapely.Point(e)):
                    yield i, e, beside

    def dividers(self, but):
        rest = [shapely.LineString(line) for i, (_, line) in enumerate(self.pieces) if i != but]
        return rest + [shapely.LineString(ring) for ring in rings_of(self.areas.r)]

    def link(self, i, end):
        """From a joint's end the shortest way to what it nearly reaches, and a hair beyond; None if nothing is near or it is passed already."""
        here = shapely.Point(end)
        others = self.dividers(i)
        gaps = [o.distance(here) for o in others]
        nearest = int(np.argmin(gaps))
        if gaps[nearest] > self.snap:
            return None
        if gaps[nearest] > TOUCH and self.has_passed(i, here, others[nearest]):
            return None
        return shapely.LineString(crossing(end, others[nearest]))

    def has_passed(self, i, end, other):
        """Whether the joint meets the other line near its end, or before it and has kept within the snap of it since."""
        own = shapely.LineString(self.pieces[i][1])
        for around in (end.buffer(self.snap), end.buffer(10 * self.snap).intersection(other.buffer(self.snap))):
            part = min(shapely.get_parts(own.intersection(around)), key=end.distance)
            if part.intersects(other):
                return True
        return False

    def links(self):
        found = [self.link(i, e) for i, e, _ in self.ends()]
        return [f for f in found if f is not None]

    def panels(self):
        """The panels, smallest first. Faces of less than a square millimetre are rounding, not panels."""
        lines = [shapely.LineString(line) for _, line in self.pieces] + self.links()
        noded = shapely.union_all([self.areas.r.boundary] + lines, **GRID)
        faces = shapely.get_parts(shapely.polygonize(shapely.get_parts(noded)))
        floor = [f for f in faces if f.area > 1e-6 and self.areas.r.intersects(f.representative_point())]
        return sorted(floor, key=lambda f: f.area)


def rings_of(region):
    for part in shapely.get_parts(region):
        yield part.exterior
        yield from part.interiors


def crossing(end, divider):
    """A short line from `end` that surely meets the divider: to its own point where that is nearest, else a tenth of a micron past it."""
    pts = shapely.get_coordinates(divider)
    near = pts[int(np.argmin(np.hypot(*(pts - end).T)))]
    foot = shapely.get_coordinates(divider.interpolate(divider.project(shapely.Point(end))))[0]
    if math.dist(near, foot) < 1e-9:
        return [end, tuple(near)] if math.dist(near, end) > 0 else [end, tuple(near + [0, 1e-7])]
    gap = math.dist(foot, end)
    if gap > 1e-7:
        return [end, tuple(foot), tuple(foot + (foot - end) / gap * 1e-7)]
    # On the line already, but for rounding: cross it square.
    starts, ends = pts[:-1], pts[1:]
    spans = shapely.linestrings(np.stack([starts, ends], axis=1))
    i = int(np.argmin(shapely.distance(spans, shapely.Point(end))))
    u = (ends[i] - starts[i]) / math.dist(ends[i], starts[i])
    n = np.array([-u[1], u[0]]) * 1e-6
    return [tuple(end - n), tuple(end), tuple(end + n)]
