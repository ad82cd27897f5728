"""The awkward things on a random floor: holes that touch, bands, joints that nearly meet, spalls on edges, steps around bends."""

import math

INCH = 0.0254


# Holes.


def box(pen, corner, size):
    return f"box: {{corner: {pen.point(corner)}, size: [{pen.length(size[0])}, {pen.length(size[1])}]}}"


def holes(floor):
    """(what, shape) of keep-outs that touch at a point, touch a wall at a point, are bands, or have a round side."""
    dice, pen, at = floor.dice, floor.pen, floor.at
    if floor.square and dice.chance(0.25):  # two boxes that touch at a corner
        x, y = (at(v) for v in floor.somewhere(1.5))
        w, h, v, u = (at(dice.real(0.3, 0.7)) for _ in range(4))
        yield "cabinet", box(pen, (x, y), (w, h))
        yield "cabinet", box(pen, (x + w, y + h), (v, u))
    if floor.kind in ("rectangle", "u") and dice.chance(0.25):  # a wedge whose point is on the lower wall
        x, r = at(floor.w * dice.real(0.55, 0.7)), at(dice.real(0.3, 0.6))
        yield "wedge", f"polygon: {pen.path([(x, 0.0), (x + r, r), (x - r, r)])}"
    if dice.chance(0.25):  # a trench, bent or straight
        x, y = floor.somewhere(1.4)
        t, run, width = dice.real(0, 6.28), dice.real(0.5, 1.2), dice.real(0.1, 0.25)
        line, turn = [floor.p(x, y)], 0.0
        for _ in range(dice.whole(1, 2)):
            x, y, turn = x + run * math.cos(t + turn), y + run * math.sin(t + turn), dice.real(-0.9, 0.9)
            line.append(floor.p(x, y))
        yield "trench", f"band: {{path: {pen.path(line)}, width: {pen.length(at(width))}}}"
    if dice.chance(0.25):  # a pad with a round side
        x, y = floor.somewhere(1.4)
        w, h, bulge = dice.real(0.4, 0.9), dice.real(0.3, 0.6), dice.real(0.1, 0.4)
        a, b, c, d = floor.p(x, y), floor.p(x + w, y), floor.p(x + w, y + h), floor.p(x, y + h)
        yield "pad", f"polygon: {pen.path([a, b, (c, floor.p(x + w + bulge * h, y + h / 2)), d])}"


# Joints and cracks.


def end_to_end(floor, made, path):
    """Two joints on the floor whose ends nearly meet, about square or in line, with a gap that is bridged or one that is not."""
    dice = floor.dice
    x, y = floor.somewhere(1.5)
    t, gap = dice.real(0, 6.28), dice.one([dice.real(0.4, 1.85), dice.real(2.2, 6)]) * INCH
    s = t + dice.real(-0.4, 0.4) + dice.one([0.0, 1.57])
    ends = [(x - math.cos(t) * r, y - math.sin(t) * r) for r in (dice.real(0.6, 2.5), 0.0)]
    path([floor.p(*e) for e in ends])
    u, v = x + gap * math.cos(s), y + gap * math.sin(s)
    run = dice.real(0.6, 2.5)
    path([floor.p(u, v), floor.p(u + run * math.cos(s), v + run * math.sin(s))])


def widths(floor, points):
    """One width, or several by station."""
    dice, pen = floor.dice, floor.pen
    choice = [1 / 64, 1 / 32, 1 / 16, 1 / 8, 3 / 16]
    run = sum(math.dist(a, b) for a, b in zip(points, points[1:]))
    if run < 0.5 or dice.chance(0.6):
        return f"width: {pen.small(dice.one(choice))}"
    stations = [0.0] + sorted(floor.at(run * (i + dice.real(0.1, 0.9)) / 3) for i in range(dice.whole(1, 3)))
    return "widths: [" + ", ".join(f"[{pen.length(s)}, {pen.small(dice.one(choice))}]" for s in stations) + "]"


# Spalls and steps.


def spalls(floor, joints):
    """(shape, depth): on a joint, over an edge of the floor, beside and over each other, and small ones that a joint takes with it."""
    dice, pen, at = floor.dice, floor.pen, floor.at
    lines = [p for _, _, p in joints if p and not any(isinstance(q[0], tuple) for q in p)]
    depth = [0.375, 0.75, 1.0]
    if lines and dice.chance(0.6):
        line = dice.one(lines)
        (ax, ay), (bx, by) = line[0], line[1]
        f = dice.real(0.3, 0.7)
        x, y = at(ax + (bx - ax) * f), at(ay + (by - ay) * f)
        yield box(pen, (at(x - dice.real(0.01, 0.2)), at(y - dice.real(0.01, 0.2))), (at(dice.real(0.1, 0.3)), at(dice.real(0.1, 0.3)))), dice.one(depth)
        f = dice.real(0.3, 0.7)
        x, y = at(ax + (bx - ax) * f), at(ay + (by - ay) * f)
        yield f"circle: {{center: {pen.point((x, y))}, diameter: {pen.length(at(dice.real(0.02, 0.036)))}}}", dice.one(depth)
    if dice.chance(0.4):  # over a wall
        i = dice.whole(0, len(floor.corners) - 1)
        (ax, ay), (bx, by) = floor.corners[i], floor.corners[(i + 1) % len(floor.corners)]
        f = dice.real(0.2, 0.8)
        yield f"circle: {{center: {pen.point((at(ax + (bx - ax) * f), at(ay + (by - ay) * f)))}, diameter: {pen.length(at(dice.real(0.1, 0.3)))}}}", dice.one(depth)
    if dice.chance(0.4):  # a chain whose patches overlap
        x, y = floor.somewhere(1.2)
        for _ in range(dice.whole(2, 4)):
            points = [floor.p(x + dice.real(-0.15, 0.15), y + dice.real(-0.15, 0.15)) for _ in range(8)]
            yield f"polygon: {pen.path(around(points))}", 1.0
            x, y = x + dice.real(-0.5, 0.5), y + dice.real(-0.5, 0.5)


def around(points):
    """The convex hull, counter-clockwise."""
    def half(ordered):
        out = []
        for p in ordered:
            while len(out) > 1 and (out[-1][0] - out[-2][0]) * (p[1] - out[-2][1]) - (out[-1][1] - out[-2][1]) * (p[0] - out[-2][0]) <= 0:
                out.pop()
            out.append(p)
        return out[:-1]

    ordered = sorted(set(points))
    return half(ordered) + half(ordered[::-1])


def steps(floor):
    """Steps along a bent line, and along an arc."""
    dice, pen = floor.dice, floor.pen
    if dice.chance(0.35):
        x, y = floor.somewhere(1.2)
        t, points = dice.real(0, 6.28), [floor.p(x, y)]
        for _ in range(dice.whole(2, 4)):
            run = dice.real(0.4, 1.2)
            x, y, t = x + run * math.cos(t), y + run * math.sin(t), t + dice.real(-1.2, 1.2)
            points.append(floor.p(x, y))
        run = sum(math.dist(a, b) for a, b in zip(points, points[1:]))
        yield f"along: {pen.path(points)}, high: {dice.one(['left', 'right'])}, readings: [{readings(floor, run)}]"
    if dice.chance(0.35):
        x, y = floor.somewhere(1.2)
        t, run, rise = dice.real(0, 6.28), dice.real(1.0, 2.5), dice.real(0.15, 0.45) * dice.one([-1, 1])
        c, s = math.cos(t), math.sin(t)
        via = (x + run / 2 * c - rise * run * s, y + run / 2 * s + rise * run * c)
        line = [floor.p(x, y), (floor.p(x + run * c, y + run * s), floor.p(*via))]
        yield f"along: {pen.path(line)}, high: {dice.one(['left', 'right'])}, readings: [{readings(floor, run)}]"


def readings(floor, run):
    dice = floor.dice
    count = dice.whole(2, 5)
    stations = [floor.at(run * (k + dice.real(0.1, 0.9)) / count) for k in range(count)]
    return ", ".join(f"[{floor.pen.length(s)}, {floor.pen.small(dice.whole(0, 10) / 16)}]" for s in stations)


# Blemishes, heights, coating.


def blemishes(floor):
    dice, at = floor.dice, floor.at
    shapes = [floor.shape(*floor.somewhere(0.2), at(dice.real(0.3, 2.0)), at(dice.real(0.3, 2.0))) for _ in range(dice.whole(0, 2))]
    return [f"{{id: B{i + 1}, what: oil, {shape}}}" for i, shape in enumerate(shapes)]


def levels(floor):
    """Heights over the floor's own frame, on a grid that is no grid, so that no two neighbours are equally far."""
    dice, pen = floor.dice, floor.pen
    if dice.chance(0.6):
        return []
    across, along = dice.whole(2, 4), dice.whole(2, 4)
    spots = []
    for i in range(across):
        for j in range(along):
            p = floor.p(floor.w * (i + dice.real(0.3, 0.7)) / across, floor.h * (j + dice.real(0.3, 0.7)) / along)
            height = pen.small(dice.whole(-16, 16) / 16)
            spots.append(f"[{pen.length(p[0])}, {pen.length(p[1])}, {height}]")
    return spots


def poured(floor):
    """The system, and a side of the sheet or a wall to pour from."""
    dice = floor.dice
    side = f"wall {dice.whole(1, 4)}" if floor.kind not in ("walk",) and dice.chance(0.3) else dice.one("NESW")
    return [f"  system: {dice.one(['flake', 'quartz', 'two-coat'])}", f"  pour_from: {side}"]
