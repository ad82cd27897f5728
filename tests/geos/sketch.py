"""A sketch read into shapes in metres: the outline, its walls, keep-outs, joints and the rest.

Every point that the sketch names is rounded to a nanometre, so that a corner reached in two ways
(12' 6" + 6" and 13') is one point. Arcs become chords of a 4096-gon, or shorter ones where those are
more than a micrometre off, with every vertex on the arc: an area within it is short by 4 parts in ten million, a length by one. Whole circles have their true area.
"""

import math
import pathlib
import re

import numpy as np
import shapely
import yaml
from lengths import FOOT, INCH, metres

ARC_CHORDS = 4096
SAGITTA = 1e-6  # metres that a chord may be off its arc
# Whole circles are smaller: 1024 corners, three parts in a million outside, so that the area is the true one.
TURN = 2 * np.pi / 1024
ROUND = math.sqrt(TURN / math.sin(TURN)) * np.column_stack([f(TURN * np.arange(1024)) for f in (np.cos, np.sin)])
# Where things touch a circle on purpose it must not reach past its radius: corners on it, six parts in a million short. A corner also where
# a line that rises 3 in 4, or 4 in 3, meets it.
PYTHAGORAS = [q * np.pi / 2 + t for q in range(4) for t in (math.atan2(3, 4), math.atan2(4, 3))]
FINE = np.sort(np.concatenate([TURN * np.arange(1024), PYTHAGORAS]))
FINE = np.column_stack([f(FINE) for f in (np.cos, np.sin)])
# The same loader in C, where the package has it.
LOADER = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
BEARING = re.compile(r"^([NS])\s*([\d.]+)\s*([EW])\s+(.+)$")
COMPASS = {"N": (0.0, 1.0), "E": (1.0, 0.0), "S": (0.0, -1.0), "W": (-1.0, 0.0)}


def nano(x, y):
    """The point on a grid of one nanometre; adding zero turns -0 into 0."""
    return (round(x, 9) + 0.0, round(y, 9) + 0.0)


def arc(start, via, end):
    """The chords of the circular arc from `start` through `via` to `end`, without `start`."""
    (ax, ay), (bx, by), (cx, cy) = start, via, end
    d = 2 * (ax * (by - cy) + bx * (cy - ay) + cx * (ay - by))
    if abs(d) < 1e-12:
        return [via, end]
    a2, b2, c2 = ax * ax + ay * ay, bx * bx + by * by, cx * cx + cy * cy
    ux = (a2 * (by - cy) + b2 * (cy - ay) + c2 * (ay - by)) / d
    uy = (a2 * (cx - bx) + b2 * (ax - cx) + c2 * (bx - ax)) / d
    radius = math.hypot(ax - ux, ay - uy)
    first = math.atan2(ay - uy, ax - ux)
    turn = (math.atan2(cy - uy, cx - ux) - first) % (2 * math.pi)
    middle = (math.atan2(by - uy, bx - ux) - first) % (2 * math.pi)
    sweep = turn if middle < turn else turn - 2 * math.pi
    count = max(2, math.ceil(abs(sweep) / (2 * math.pi) * ARC_CHORDS), math.ceil(abs(sweep) / math.sqrt(8 * SAGITTA / radius)))
    angles = [first + sweep * i / count for i in range(1, count)]
    return [(ux + radius * math.cos(t), uy + radius * math.sin(t)) for t in angles] + [end]


def length_of(line):
    return sum(math.dist(a, b) for a, b in zip(line, line[1:]))


def at_station(line, station):
    """The point `station` metres along a polyline, and the unit direction there."""
    for a, b in zip(line, line[1:]):
        run = math.dist(a, b)
        if station <= run + 1e-9 or (a, b) == (line[-2], line[-1]):
            ux, uy = (b[0] - a[0]) / run, (b[1] - a[1]) / run
            return (a[0] + ux * station, a[1] + uy * station), (ux, uy)
        station -= run
    raise ValueError("station beyond the end")


def between(line, start, end):
    """The part of a polyline from one station to another."""
    part, walked = [at_station(line, start)[0]], 0.0
    for a, b in zip(line, line[1:]):
        walked += math.dist(a, b)
        if start + 1e-9 < walked < end - 1e-9:
            part.append(b)
    return part + [at_station(line, end)[0]]


class Sketch:
    """One floor. Lengths in metres, areas as shapely polygons."""

    def __init__(self, text, folder=None, circle=ROUND):
        self.circle = circle
        self.file = yaml.load(text, Loader=LOADER)
        self.metric = self.file.get("units", "us") == "metric"
        self.slab = self.file["slab"]
        self.coating = self.file.get("coating") or {}
        self.shop = {}
        if folder and self.file.get("shop"):
            book = (pathlib.Path(folder) / self.file["shop"]).read_text(encoding="utf-8")
            self.shop = yaml.load(book, Loader=LOADER)
        self.misclosure, self.shapes = None, {}
        self.read_outline()
        for letter, key in (("J", "joints"), ("C", "cracks"), ("S", "spalls"), ("L", "lippage"), ("B", "blemishes")):
            self.name_items(letter, self.file.get(key) or [])
        self.lines = {item["id"]: item for key in ("joints", "cracks") for item in self.file.get(key) or []}
        self.joints = [(item["id"], self.line(item["id"])) for item in self.file.get("joints") or []]
        self.cracks = [(item["id"], self.line(item["id"])) for item in self.file.get("cracks") or []]
        keep_outs = self.repeated(self.slab.get("keep_outs") or [])
        self.keep_outs = [self.shape(k) for k in keep_outs]
        self.obstacles = [self.shape(k) for k in keep_outs if k.get("flush") != "true"]
        self.uncoated = [self.shape(u) for u in self.coating.get("uncoated") or []]
        self.openings = [self.opening(o) for o in self.slab.get("openings") or []]
        self.faces = [self.path(f["path"]) for f in self.coating.get("faces") or []]
        self.face_heights = [self.small(f["height"]) for f in self.coating.get("faces") or []]

    def name_items(self, letter, items):
        taken = {i["id"] for key in ("joints", "cracks", "spalls", "lippage", "blemishes") for i in self.file.get(key) or [] if "id" in i}
        free = 1
        for item in items:
            while "id" not in item:
                if f"{letter}{free}" not in taken:
                    item["id"] = f"{letter}{free}"
                    taken.add(item["id"])
                free += 1

    def repeated(self, items):
        """Records that stand for several are taken apart into one for each, with how far it stands from the record as written."""
        out = []
        for item in items:
            shifts = [None]
            if repeat := item.get("repeat"):
                if "count" in repeat:
                    dx, dy = (self.plan(d) for d in repeat["by"])
                    shifts = [(n * dx, n * dy) for n in range(int(repeat["count"]))]
                else:
                    x, y = self.point(item["box"]["corner"] if "box" in item else item["circle"]["center"])
                    places = [[self.plan(c) for c in repeat[key]] if key in repeat else [at] for key, at in (("x", x), ("y", y))]
                    shifts = [(to_x - x, to_y - y) for to_y in places[1] for to_x in places[0]]
            out += [item if shift is None else {**item, "shift": shift} for shift in shifts]
        return out

    def plan(self, text):
        return metres(text, 1.0 if self.metric else FOOT)

    def small(self, text):
        return metres(text, 0.001 if self.metric else INCH)

    def rule(self, section, key, default):
        """A length of the shop book, or the built-in one."""
        return metres((self.shop.get(section) or {}).get(key, default), INCH)

    # Points and paths.

    def point(self, form):
        if isinstance(form, list):
            return nano(self.plan(form[0]), self.plan(form[1]))
        if "wall" in form:
            (x, y), (ux, uy) = at_station(self.walls[int(form["wall"]) - 1], self.plan(form["along"]))
            out = self.plan(form.get("out", "0"))
            side = 1 if self.turns_left else -1
            return nano(x - uy * out * side, y + ux * out * side)
        if "line" in form:
            return nano(*at_station(self.line(form["line"]), self.plan(form["at"]))[0])
        if "ties" in form:
            return self.tied(form)
        raise ValueError(f"not a point: {form}")

    def tied(self, form):
        (n, p), (m, q) = form["ties"]
        (ax, ay), (bx, by) = self.corners[int(n) - 1], self.corners[int(m) - 1]
        p, q, apart = self.plan(p), self.plan(q), math.dist((ax, ay), (bx, by))
        along = (apart * apart + p * p - q * q) / (2 * apart)
        off = math.sqrt(p * p - along * along) * (1 if form["side"] == "left" else -1)
        ux, uy = (bx - ax) / apart, (by - ay) / apart
        return nano(ax + ux * along - uy * off, ay + uy * along + ux * off)

    def runs(self, forms):
        """The first point, and for each later vertex the chords that lead to it."""
        here, runs = self.point(forms[0]), []
        first = here
        for form in forms[1:]:
            if isinstance(form, dict) and "to" in form:
                run = [here] + arc(here, self.point(form["via"]), self.point(form["to"]))
            else:
                run = [here, self.point(form)]
            here = run[-1]
            runs.append(run)
        return first, runs

    def path(self, forms):
        first, runs = self.runs(forms)
        return [first] + [p for run in runs for p in run[1:]]

    def line(self, name):
        """The whole path of a joint or crack, as written; an `x:` or `y:` joint from its southern or western end."""
        item = self.lines[name]
        if "path" in item:
            return self.path(item["path"])
        axis = 0 if "x" in item else 1
        at = round(self.plan(item["xy"[axis]]), 9)
        box = self.outline.bounds
        low, high = box[1 - axis] - 1, box[3 - axis] + 1
        reach = shapely.LineString([(at, low), (at, high)] if axis == 0 else [(low, at), (high, at)]).intersection(self.outline)
        ends = [round(reach.bounds[1 - axis], 9), round(reach.bounds[3 - axis], 9)]
        ends[0] = round(self.plan(item["from"]), 9) if "from" in item else ends[0]
        ends[1] = round(self.plan(item["to"]), 9) if "to" in item else ends[1]
        path = [(at, e) if axis == 0 else (e, at) for e in ends]
        return self.ended(path, item["ends_at"]) if "ends_at" in item else path

    def ended(self, path, name):
        """A straight joint that reaches into the closed joint round a keep-out, cut off where it enters."""
        keep_out = next(self.shape(k) for k in self.slab["keep_outs"] if k["id"] == name)
        rings = [self.path(j["path"]) for j in self.file["joints"] if "path" in j and j["path"][0] == j["path"][-1]]
        ring = min((r for r in map(shapely.Polygon, rings) if r.contains(keep_out)), key=lambda r: r.area)
        return list(shapely.LineString(path).difference(ring).coords)

    # The outline.

    def read_outline(self):
        form = self.slab["outline"]
        if isinstance(form, dict):
            points = self.walked(form)
            runs = [[a, b] for a, b in zip(points, points[1:])]
        else:
            _, runs = self.runs(form)
        if runs[-1][-1] != runs[0][0]:
            runs.append([runs[-1][-1], runs[0][0]])
        self.walls = runs
        self.corners = [run[0] for run in runs]
        self.outline = shapely.Polygon([p for run in runs for p in run[:-1]])
        self.turns_left = self.outline.exterior.is_ccw

    def walked(self, form):
        here = self.point(form.get("start", ["0", "0"]))
        points, walked, closes = [here], [0.0], False
        for step in form["walk"]:
            if step == "close":
                closes = True
                break
            if found := BEARING.match(step):
                angle = math.radians(float(found.group(2)))
                ux = math.sin(angle) * (1 if found.group(3) == "E" else -1)
                uy = math.cos(angle) * (1 if found.group(1) == "N" else -1)
                run = self.plan(found.group(4))
            else:
                (ux, uy), run = COMPASS[step[0]], self.plan(step[1:])
            here = (here[0] + ux * run, here[1] + uy * run)
            points.append(here)
            walked.append(walked[-1] + run)
        if closes:
            return [nano(*p) for p in points]
        # The compass rule: each corner moves back by its share of the length walked.
        ex, ey = here[0] - points[0][0], here[1] - points[0][1]
        self.misclosure = math.hypot(ex, ey)
        return [nano(x - ex * w / walked[-1], y - ey * w / walked[-1]) for (x, y), w in zip(points, walked)]

    def stations(self, form):
        return self.plan(form["from"]), self.plan(form["to"])

    def opening(self, form):
        return between(self.walls[int(form["wall"]) - 1], *self.stations(form))

    # Shapes.

    def shape(self, item):
        """The shape of a record, made once."""
        if id(item) not in self.shapes:
            self.shapes[id(item)] = shapely.transform(self.made(item), lambda points: points + item.get("shift", (0.0, 0.0)))
        return self.shapes[id(item)]

    def made(self, item):
        if box := item.get("box"):
            x, y = self.point(box["corner"])
            far = nano(x + self.plan(box["size"][0]), y + self.plan(box["size"][1]))
            return shapely.box(x, y, *far)
        if circle := item.get("circle"):
            (x, y), r = self.point(circle["center"]), self.plan(circle["diameter"]) / 2
            return shapely.Polygon(np.array([x, y]) + r * self.circle)
        if polygon := item.get("polygon"):
            return shapely.Polygon(self.path(polygon))
        if band := item.get("band"):
            line = shapely.LineString(self.path(band["path"]))
            return line.buffer(self.plan(band["width"]) / 2, cap_style="flat", join_style="mitre")
        raise ValueError(f"no shape in {item}")
