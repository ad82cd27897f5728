"""Random floors on which things touch on purpose: columns tangent to walls and to each other, shapes that share edges or corners,
hairline strips, joints along walls, along shapes and along joints, cracks on joints. Every floor is written four times: as made, turned
by a quarter, and twice turned by an odd angle and shifted; no quantity may change by it.

Everything lies on a coarse grid, so that contacts are exact and everything else is far apart; the distances at which a rule changes
by a jump (2 in, 3 in, 34 in) are not on it.
"""

import math

from areas import Areas
from further import cracks, joints
from judge import end_checks, saw_checks, slotted
from lines import Lines
from measure import about, rounded
from random_floors import FOOT, INCH, Dice
from sketch import FINE, Sketch

# Grids, and how thick a hairline strip is: (units, meters of a unit of the sketch, grid, hairline).
HANDS = [("us", FOOT, 4 * INCH, INCH / 16), ("us", FOOT, 6 * INCH, INCH / 16), ("metric", 1.0, 0.1, 0.001), ("metric", 1.0, 0.15, 0.001)]


# On one floor in so many it is asked what grinder and saw can't reach, too.
HAND = 10


class Floor:
    """One floor, in whole steps of its grid."""

    def __init__(self, dice):
        self.dice = dice
        self.units, self.unit, self.grid, self.hair = dice.one(HANDS)
        self.w, self.h = (round(dice.real(3.6, 9) / self.grid) for _ in range(2))
        self.keep_outs, self.uncoated, self.joints, self.cracks, self.openings = [], [], [], [], []
        self.touched = []  # points at which something touches
        self.outline = getattr(self, dice.one(["rectangle", "rectangle", "corner_off", "l", "bay"]))()
        for _ in range(dice.whole(1, 4)):
            getattr(self, dice.one(["column", "column", "corner_column", "pair", "oblique_pair"]))()
        for _ in range(dice.whole(0, 3)):
            self.zone(dice.one([self.keep_outs, self.keep_outs, self.uncoated]))
        for _ in range(dice.whole(1, 4)):
            self.line(self.joints)
        for _ in range(dice.whole(1, 3)):
            self.line(self.cracks)
        if dice.chance(0.5):
            a = dice.whole(1, self.w - 8)
            self.openings.append((a, a + dice.whole(2, 6)))

    # Outlines; the lower wall is wall 1.

    def rectangle(self):
        return [(0, 0), (self.w, 0), (self.w, self.h), (0, self.h)]

    def corner_off(self):
        k = self.dice.whole(1, 3)
        return [(0, 0), (self.w, 0), (self.w, self.h - 4 * k), (self.w - 3 * k, self.h), (0, self.h)]

    def l(self):
        x, y = self.w // 2, self.h // 2
        return [(0, 0), (self.w, 0), (self.w, y), (x, y), (x, self.h), (0, self.h)]

    def bay(self):
        self.h -= self.h % 2
        half = self.h // 2
        return [(0, 0), (self.w, 0), ((self.w, self.h), (self.w + half, half)), (0, self.h)]

    # Columns: (center, radius).

    def put(self, x, y, r, *points):
        self.keep_outs.append(((x, y), r))
        self.touched += points

    def column(self):
        """Tangent to the lower or the left wall."""
        r, at = self.dice.whole(1, 2), self.dice.whole(3, min(self.w, self.h) - 3)
        if self.dice.chance(0.5):
            self.put(at, r, r, (at, 0), (at, 2 * r))
        else:
            self.put(r, at, r, (0, at), (2 * r, at))

    def corner_column(self):
        r = self.dice.whole(1, 2)
        self.put(r, r, r, (r, 0), (0, r))

    def pair(self):
        """Two that touch, along x."""
        r, s = self.dice.whole(1, 2), self.dice.whole(1, 2)
        x, y = self.dice.whole(3, self.w - 7), self.dice.whole(3, self.h // 2)
        self.put(x, y, r, (x + r, y))
        self.put(x + r + s, y, s, (x + r + 2 * s, y))

    def oblique_pair(self):
        """Two that touch on a line that rises 3 in 4."""
        x, y = self.dice.whole(3, self.w - 7), self.dice.whole(3, max(3, self.h // 2 - 4))
        self.put(x, y, 2, (x, y + 2))
        self.put(x + 4, y + 3, 3, (x + 4, y + 6))

    # Boxes: (x, y, width, height).

    def zone(self, where):
        dice = self.dice
        w, h = dice.whole(1, 5), dice.whole(1, 4)
        kind = dice.one(["wall", "corner", "beside", "diagonal", "hairline", "over"])
        boxes = [z for z in self.keep_outs + self.uncoated if len(z) == 4]
        if kind in ("beside", "diagonal") and boxes:
            x, y, u, v = dice.one(boxes)
            x, y = x + u, y if kind == "beside" else y + v
        else:
            x, y = dice.whole(2, self.w - 6), 0
            if kind == "corner":
                x = 0
            elif kind == "hairline":
                h = self.hair / self.grid
            elif kind == "over":
                y, h = -1, h + 1
        where.append((x, y, w, h))
        self.touched += [(x, y + h), (x + w, y + h), (x + w, max(y, 0))] if h == int(h) else [(x, 0), (x + w, 0)]

    # Joints and cracks.

    def line(self, where):
        dice, w, h = self.dice, self.w, self.h
        kind = dice.one(["wall", "part of a wall", "from a contact", "through a contact", "twin", "part of a twin", "bent", "across"])
        lines = self.joints + self.cracks
        if kind == "wall":
            made = dice.one([[(0, 0), (w, 0)], [(0, h), (0, 0)], [(0, h), (0, 0), (w, 0)]])
        elif kind == "part of a wall":
            a = dice.whole(0, w - 4)
            made = [(a, 0), (dice.whole(a + 3, w), 0)]
        elif kind in ("from a contact", "through a contact") and self.touched:
            x, y = dice.one(self.touched)
            ends = [[(x, y), (x, h)], [(x, y), (w, y)]] if kind == "from a contact" else [[(x, -1), (x, h + 1)], [(-1, y), (w + 1, y)]]
            made = dice.one(ends)
        elif kind in ("twin", "part of a twin") and lines:
            made = list(dice.one(lines))
            if kind == "part of a twin" and (step := self.whole_step(made[0], made[1])):
                (ax, ay), (sx, sy), n = made[0], *step
                made = [(ax + sx * dice.whole(0, n // 2), ay + sy * dice.whole(0, n // 2))] if n < 4 else [made[0], (ax + sx * (n // 2), ay + sy * (n // 2))]
                if len(made) < 2:
                    return
            if dice.chance(0.5):
                made.reverse()
        elif kind == "bent":
            x, y = dice.whole(2, w - 2), dice.whole(2, h - 2)
            made = [(x, 0), (x, y), (w, y)]
        else:
            a, b = dice.whole(1, w - 1), dice.whole(1, w - 1)
            made = [(a, 0), (b if dice.chance(0.5) else a, h)]
        if made[0] != made[-1]:
            where.append(made)

    @staticmethod
    def whole_step(a, b):
        """The step along a line from grid point to grid point, and how many there are."""
        if any(v != int(v) for v in (*a, *b)):
            return None
        dx, dy = int(b[0] - a[0]), int(b[1] - a[1])
        n = math.gcd(dx, dy)
        return ((dx // n, dy // n), n) if n else None


def text_of(floor, name, turn):
    """The sketch; `turn` takes a point of the grid to where it is written, in units of the sketch."""

    def point(p):
        return "[" + ", ".join(f"{v:.10f}".rstrip("0").rstrip(".") if v else "0" for v in turn(p)) + "]"

    def path(points):
        return "[" + ", ".join(f"{{to: {point(p[0])}, via: {point(p[1])}}}" if isinstance(p[0], tuple) else point(p) for p in points) + "]"

    def zone(z):
        if len(z) == 2:
            return f"circle: {{center: {point(z[0])}, diameter: {2 * z[1] * floor.grid / floor.unit:.10f}}}"
        x, y, w, h = z
        return f"polygon: {path([(x, y), (x + w, y), (x + w, y + h), (x, y + h)])}"

    out = ["slabwalk: 1", f"job: {{name: {name}}}", f"units: {floor.units}", "slab:", "  post_tension: none", f"  outline: {path(floor.outline)}"]
    if floor.openings:
        out.append("  openings:")
        out += [f"    - {{wall: 1, from: {a * floor.grid / floor.unit:.10f}, to: {b * floor.grid / floor.unit:.10f}}}" for a, b in floor.openings]
    if floor.keep_outs:
        out.append("  keep_outs:")
        out += [f"    - {{id: K{i + 1}, {zone(z)}}}" for i, z in enumerate(floor.keep_outs)]
    if floor.uncoated:
        out += ["coating:", "  uncoated:"]
        out += [f"    - {{id: U{i + 1}, what: mat, {zone(z)}}}" for i, z in enumerate(floor.uncoated)]
    for key, letter, extra in (("joints", "J", "kind: control"), ("cracks", "C", f"width: {'1.5' if floor.units == 'metric' else '1/16'}")):
        if lines := getattr(floor, key):
            out.append(f"{key}:")
            out += [f"  - {{id: {letter}{i + 1}, {extra}, path: {path(p)}}}" for i, p in enumerate(lines)]
    return "\n".join(out) + "\n"


def turns(floor, dice):
    """As made, turned by one to three quarters about the origin, and by two odd angles, shifted."""
    scale = floor.grid / floor.unit
    quarters = [(1, 0), (0, 1), (-1, 0), (0, -1)]

    def turned(c, s, dx=0.0, dy=0.0):
        return lambda p: ((p[0] * c - p[1] * s) * scale + dx, (p[0] * s + p[1] * c) * scale + dy)

    odd = [dice.real(0, 2 * math.pi) for _ in range(2)]
    return [turned(1, 0), turned(*dice.one(quarters[1:]))] + [
        turned(math.cos(t), math.sin(t), dice.real(-20, 20), dice.real(-20, 20)) for t in odd
    ]


def write(seed, attempt):
    """The sketches of one floor."""
    dice = Dice(seed * 1000 + attempt + 500_000_000)
    floor = Floor(dice)
    return [text_of(floor, f"contacts {seed}", turn) for turn in turns(floor, dice)]


def grazes(sketch):
    """Whether a line just misses a circle, or cuts off a hair of it: then a few micrometres decide over millimetres of its length. A circle
    that it touches is none of these, but for a line that runs on past the end of a wall where a bay begins."""
    circles = [(s.centroid.coords[0], math.sqrt(s.area / math.pi)) for s in sketch.keep_outs if len(s.exterior.coords) > 1000]
    if len(sketch.walls[1]) > 2:
        x, y = sketch.walls[1][0]
        half = (sketch.walls[1][-1][1] - y) / 2
        circles.append(((x, y + half), half))
        past = [p for _, line in sketch.joints + sketch.cracks for p in line if p[0] > x and abs(abs(p[1] - y - half) - half) < 1e-6]
        if past:
            return True
    for _, line in sketch.joints + sketch.cracks:
        for (ax, ay), (bx, by) in zip(line, line[1:]):
            for (cx, cy), r in circles:
                off = abs((bx - ax) * (cy - ay) - (by - ay) * (cx - ax)) / math.dist((ax, ay), (bx, by))
                if 1e-5 * r < abs(off - r) < 0.03 * r:
                    return True
    return False


def measured(text, by_hand):
    """The reference of a sketch, or None where a rule jumps there. With what grinder and saw can't reach, which takes most of the time, if asked."""
    sketch = Sketch(text, circle=FINE)
    areas = Areas(sketch, hair=0, touch=2e-9)
    if not sketch.outline.is_valid or areas.k.area < 0.4 * areas.p.area:
        return None
    if any(z.intersection(areas.p).area < 0.05 * z.area for z in sketch.keep_outs + sketch.uncoated) or grazes(sketch):
        return None
    lines = Lines(sketch, areas)
    if end_checks(areas, lines):
        return None
    panels = lines.panels()
    if any(2 * p.area / p.length < 0.06 for p in panels):
        return None
    area = areas.values(by_hand)
    if by_hand and (saw_checks(lines) or slotted(areas, area["hand_edge_m2"])):
        return None
    named = zip(sketch.joints, lines.joint_lengths())
    sawn = joints(sketch, lines) if by_hand else [{"id": name, "length_m": length} for (name, _), length in named]
    found = {"area": area, "edge_m": areas.k.boundary.length, "termination_m": areas.termination(), "joints": sawn, "cracks": cracks(sketch, lines)}
    return rounded(found | about(lines, panels))


def made(seed, attempt):
    """A floor with its reference; None where there is none."""
    sketches = write(seed, attempt)
    reference = measured(sketches[0], seed % HAND == 0)
    return reference and {"seed": seed, "try": attempt, "sketches": sketches, "reference": reference}


def make(seed, tries=8):
    """The first try of a seed on which no rule decides by a hair; None if there is none."""
    for attempt in range(tries):
        try:
            if floor := made(seed, attempt):
                return floor
        except (ValueError, IndexError):
            continue  # an outline that crosses itself, or a line without length
    return None
