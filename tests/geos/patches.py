"""Patches: how spalls are squared, what becomes one, what counts."""

import itertools

import shapely
from areas import GRID, rectangle, smallest_rectangle

INCH = 0.0254
# What the built-in book says: grown by, least length, least width, apart, pop-out.
EXTEND, LENGTH, WIDTH, APART, POP_OUT = INCH, 4 * INCH, 4 * INCH, 2 * INCH, 2 * INCH
LARGEST = 16 * 0.3048**2
FILLED = 0.5
ON_JOINT = INCH / 8  # metres within which a line runs along the edge of a rectangle, not through it
TOUCHED = 1e-6  # square metres of a keep-out that are beside a rectangle
STEP = 3.125e-6  # to which lengths are rounded before they are ordered


class Patch:
    """One rectangle, the spalls in it and the rectangles of which it was made."""

    def __init__(self, names, parts, shape):
        self.names, self.parts, self.shape = names, parts, shape

    def joined(self, other):
        parts = self.parts + other.parts
        return Patch(self.names + other.names, parts, rectangle(*smallest_rectangle(shapely.union_all(parts))))

    def filled(self):
        return shapely.union_all(self.parts).area


def alone(name, part):
    """The smallest rectangle around what counts of a spall, grown, and of the least size."""
    center, u, w, h = smallest_rectangle(part)
    w, h = w + EXTEND, h + EXTEND
    least = (LENGTH / 2, WIDTH / 2) if w >= h - 1e-9 else (WIDTH / 2, LENGTH / 2)
    shape = rectangle(center, u, max(w, least[0]), max(h, least[1]))
    return Patch([name], [shape], shape)


def order(pair):
    """The nearest pair first, then the smaller rectangle, then the one further left and lower down."""
    one, two, both = pair
    middle = both.shape.centroid
    return [round(v / STEP) for v in (one.shape.distance(two.shape), both.shape.area, middle.x, middle.y)]


def may(both, joints, keep_outs):
    """Whether a crew would cut this as one."""
    inner = both.shape.buffer(-ON_JOINT, join_style="mitre")
    return (
        both.shape.area <= LARGEST * (1 + 1e-9)
        and both.filled() >= FILLED * both.shape.area * (1 - 1e-9)
        and inner.intersection(joints).length <= 1e-9
        and both.shape.intersection(keep_outs).area <= TOUCHED
    )


def merged(found, joints, keep_outs, looked_at=None):
    """Patches nearer than APART, two by two, until no two may become one. `looked_at` collects the pairs."""
    while True:
        near = [(a, b) for a, b in itertools.combinations(found, 2) if a.shape.distance(b.shape) < APART - 1e-9]
        pairs = sorted(((a, b, a.joined(b)) for a, b in near), key=order)
        if looked_at is not None:
            looked_at += pairs
        gone, new = set(), []
        for one, two, both in pairs:
            if id(one) in gone or id(two) in gone or not may(both, joints, keep_outs):
                continue
            gone |= {id(one), id(two)}
            new.append(both)
        if not new:
            return found
        found = [p for p in found if id(p) not in gone] + new


def number(name):
    return int(name[1:])


def taken_in(found, parts, others):
    """Patches and spalls that lie inside a patch belong to it, the larger one first. `others` are spalls that are not cut out."""
    found = sorted(found, key=lambda p: (-round(p.shape.area / 1e-9), min(map(number, p.names))))
    kept = []
    for patch in found:
        whole = shapely.union_all([parts[name] for name in patch.names])
        around = next((k for k in kept if k.shape.buffer(1e-9).contains(whole)), None)
        if around is None:
            kept.append(patch)
        else:
            around.names = around.names + patch.names
    for name in others:
        around = next((k for k in kept if k.shape.buffer(1e-9).contains(parts[name])), None)
        if around is not None:
            around.names = around.names + [name]
    return sorted(kept, key=lambda p: min(map(number, p.names)))


def cut(kept, floor):
    """What is cut of each: on the coated floor, and not in one before it."""
    for i, patch in enumerate(kept):
        before = shapely.union_all([p.shape for p in kept[:i]])
        yield patch, patch.shape.intersection(floor, **GRID).difference(before, **GRID).area
