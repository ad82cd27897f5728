"""Areas, edges and the floor that a round grinder cannot reach."""

import math

import numpy as np
import shapely

# GEOS's own buffer first drops shallow concave corners, up to a hundredth of the distance, 4 mm here, and beside a
# finely flattened arc its result was seen to be off by tenths of a metre. So regions are grown and shrunk here.
QUARTER_CHORDS = 64
WHOLE_CIRCLE = 1024  # edges, as sketch.py draws one
SHALLOW = 0.05  # radians: a bend for which the two offset lines are simply brought to meet
PROOF = 4e-5  # metres: more than flattening puts between the offset line and the true distance
# Overlays are made on a grid of a nanometre: without one, GEOS was seen to lose a whole ring of a union in silence.
GRID = {"grid_size": 1e-9}
HAIR = 1e-8  # metres that keep-outs and uncoated parts are grown by, so that no slit is left where two of them meet
TOUCH = 1e-6  # metres within which a line is taken to lie on another: a hundredth of the coarsest tape


def sector(center, radius, start, sweep):
    """A sector whose flattened area is the true one: the corners between its two ends lie a hair outside the circle."""
    count = max(1, math.ceil(abs(sweep) / (math.pi / 2) * QUARTER_CHORDS))
    step = abs(sweep) / count
    # Two triangles reach from the circle to such a corner, the others from corner to corner.
    rest, whole = count - 2, count * step / math.sin(step)
    out = (math.sqrt(1 + rest * whole) - 1) / rest if rest > 0 else whole / 2 if rest == 0 else 1
    turn = [(start + sweep * i / count, radius * (out if 0 < i < count else 1)) for i in range(count + 1)]
    return [center] + [(center[0] + r * math.cos(t), center[1] + r * math.sin(t)) for t, r in turn]


def offset(ring, radius):
    """The line at `radius` to the right of a ring, with all its loops: a superset of the true offset curve."""
    pts = [tuple(p) for p in shapely.get_coordinates(ring)]
    pts = [p for p, q in zip(pts, pts[1:]) if math.dist(p, q) > 1e-7]
    angles = [math.atan2(b[1] - a[1], b[0] - a[0]) - math.pi / 2 for a, b in zip(pts, pts[1:] + pts[:1])]
    runs = [math.dist(a, b) for a, b in zip(pts, pts[1:] + pts[:1])]
    line = []
    for i, ((x, y), before, after) in enumerate(zip(pts, angles[-1:] + angles, angles)):
        turn = (after - before + math.pi) % (2 * math.pi) - math.pi
        if turn > 0:
            line += sector((x, y), radius, before, turn)[1:]
        elif turn > -SHALLOW and radius * math.tan(-turn / 2) < 0.49 * min(runs[i - 1], runs[i]):
            reach, middle = radius / math.cos(turn / 2), before + turn / 2
            line.append((x + reach * math.cos(middle), y + reach * math.sin(middle)))
        else:
            line += [(x + r * math.cos(t), y + r * math.sin(t)) for r, t in ((radius, before), (0, 0), (radius, after))]
    return shapely.LinearRing(line)


def rings(region):
    """All rings of a region, the region on the left of each."""
    for part in shapely.get_parts(shapely.orient_polygons(region)):
        if part.geom_type == "Polygon":
            yield part.exterior
            yield from part.interiors


def faces_about(region, lines):
    """The faces into which a region's edge and its offset lines cut the plane, specks left out."""
    noded = shapely.union_all([region.boundary] + lines, **GRID)
    faces = shapely.get_parts(shapely.polygonize(shapely.get_parts(noded)))
    return [f for f in faces if f.area > 1e-9]


def corners(faces):
    return shapely.points(np.unique(np.concatenate([shapely.get_coordinates(f) for f in faces]), axis=0))


def prove(faces, edges, low, high):
    """Every corner of every face must lie between two distances of the edges."""
    if faces:
        points = corners(faces)
        near_enough = high == math.inf or shapely.dwithin(edges, points, high + PROOF).all()
        far_enough = low == 0 or not shapely.dwithin(edges, points, low - PROOF).any()
        assert near_enough and far_enough, "a grown or shrunk region is off"


def sorted_out(region, lines, radius):
    """The faces about a region's edge: inside it and near the edge, inside and deeper, outside and near, outside and far."""
    # Distances are asked of a prepared geometry, which stops looking once it knows.
    edges = region.boundary
    for geometry in (region, edges):
        shapely.prepare(geometry)
    faces = faces_about(region, lines)
    points = np.array([f.representative_point() for f in faces])
    inside, near = shapely.intersects(region, points), shapely.dwithin(edges, points, radius)
    groups = [[f for f, a, b in zip(faces, inside, near) if (a, b) == kind] for kind in ((True, True), (True, False), (False, True), (False, False))]
    return edges, groups


def grown(region, radius):
    """The faces that make the grown region, not yet joined: GEOS takes long over that, and an area needs none of it."""
    edges, (skin, core, near, far) = sorted_out(region, [offset(r, radius) for r in rings(region)], radius)
    prove(near, edges, 0, radius)
    prove(far, edges, radius, math.inf)
    return skin + core + near


def shrunk(region, radius):
    edges, (skin, deep, _, _) = sorted_out(region, [offset(shapely.reverse(r), radius) for r in rings(region)], radius)
    prove(skin, edges, 0, radius)
    prove(deep, edges, radius, math.inf)
    return shapely.union_all(deep, **GRID)


def opened(region, gap, head):
    """What a disc of diameter `head` reaches that stays `gap` off every edge of the region, as faces that don't overlap."""
    centres = shrunk(region, gap + head / 2)
    return [] if centres.is_empty else grown(centres, head / 2)


def area_within(faces, region):
    """The area of faces that don't overlap, as far as they lie in a region."""
    if not faces:
        return 0.0
    shapely.prepare(region)
    faces = np.array(faces)
    whole = shapely.covers(region, faces)
    parted = ~whole & shapely.intersects(region, faces)
    cut = shapely.intersection(faces[parted], region, **GRID)
    return float(shapely.area(faces[whole]).sum() + shapely.area(cut).sum())


def without(region, shapes, hair):
    if not shapes:
        return region
    return region.difference(shapely.union_all([s.buffer(hair, join_style="mitre") for s in shapes] if hair else shapes, **GRID), **GRID)


class Areas:
    """P, R and K of a sketch, and the quantities read off them. Where everything lies on the grid of a nanometre exactly, no hair is wanted."""

    def __init__(self, sketch, hair=HAIR, touch=TOUCH):
        self.p, self.touch = sketch.outline, touch
        self.r = without(self.p, sketch.keep_outs, hair)
        self.k = without(self.r, sketch.uncoated, hair)
        self.gap = sketch.rule("grinding", "edge_gap", '2"')
        self.head = sketch.rule("grinding", "head", '30"')
        # Finely flattened circles cost the offset lines dear; this takes a micrometre off the grinder's way at most.
        self.solid = without(self.p, sketch.obstacles, hair).simplify(1e-6)
        self.openings = [shapely.LineString(o) for o in sketch.openings]
        self.faces = sum(shapely.LineString(f).length * h for f, h in zip(sketch.faces, sketch.face_heights))

    def hand_edge(self, gap=None):
        reached = opened(self.solid, self.gap if gap is None else gap, self.head)
        return self.k.area - area_within(reached, self.k)

    def termination(self):
        """Boundary of K that is not boundary of R, and boundary of K on an opening."""
        edge = self.k.boundary
        against = edge.difference(self.r.boundary.buffer(self.touch)).length
        doors = shapely.union_all([o.buffer(self.touch, cap_style="flat") for o in self.openings])
        return against + edge.intersection(doors).length

    def values(self, by_hand=True):
        values = {
            "gross_m2": self.p.area,
            "keep_out_m2": self.p.area - self.r.area,
            "uncoated_m2": self.r.area - self.k.area,
            "net_m2": self.k.area,
            "faces_m2": self.faces,
            "coated_m2": self.k.area + self.faces,
        }
        return values | {"hand_edge_m2": self.hand_edge()} if by_hand else values


def smallest_rectangle(geometry):
    """Centre, unit direction, and the two half sides of the rectangle of least area around a shape."""
    hull = shapely.get_coordinates(shapely.convex_hull(geometry))
    # The direction of x is tried first and another must be better by two parts in 100,000, more than the flattening
    # of a circle takes off: so a circle's rectangle lies along x and y, by convention.
    edges = np.diff(hull, axis=0)
    # So many edges has a whole circle, of which one direction is as good as another.
    runs = np.concatenate([[[1.0, 0.0]], edges if len(edges) != WHOLE_CIRCLE else edges[::64]])
    along = runs / np.hypot(*runs.T)[:, None]
    across = np.stack([-along[:, 1], along[:, 0]], axis=1)
    s, t = hull @ along.T, hull @ across.T
    sizes = np.ptp(s, axis=0) * np.ptp(t, axis=0)
    best = int(np.argmin(sizes))
    best = best if sizes[best] < sizes[0] * (1 - 2e-5) else 0
    u, v, s, t = along[best], across[best], s[:, best], t[:, best]
    center = u * (s.max() + s.min()) / 2 + v * (t.max() + t.min()) / 2
    w, h = np.ptp(s) / 2, np.ptp(t) / 2
    # A square has no longer side; by convention it is the one nearer to x.
    if abs(w - h) <= 1e-6 * w and abs(u[0]) < abs(u[1]):
        u, w, h = np.array([u[1], -u[0]]), h, w
    return center, u, w, h


def rectangle(center, u, half_w, half_h):
    v = np.array([-u[1], u[0]])
    return shapely.Polygon([center + u * half_w * i + v * half_h * j for i, j in ((-1, -1), (1, -1), (1, 1), (-1, 1))])
