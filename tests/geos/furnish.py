"""What lies on a random floor: keep-outs, joints of every awkward kind, cracks, spalls, lippage."""

import math

import awkward

INCH = 0.0254
# The corners of a broken piece, for a width and height of one. Its smallest rectangle lies on its base and is smaller
# than any other by more than one part in a hundred; many a plainer shape has two of one size, and the patch hangs on which.
SPALL = ((-0.5, -0.5), (0.5, -0.5), (0.5, 0.3), (0.1, 0.5), (-0.4, 0.2))


def furnished(floor, name):
    """The whole sketch as text."""
    dice, pen = floor.dice, floor.pen
    joints = joints_of(floor)
    text = [
        "slabwalk: 1",
        f"job: {{name: {name}}}",
        f"units: {pen.units}",
        "slab:",
        "  post_tension: none",
        f"  outline: {floor.outline}",
    ]
    text += listed("  openings", openings(floor), "  ")
    text += listed("  keep_outs", keep_outs(floor), "  ")
    text += listed("joints", [f"{{id: J{i + 1}, kind: {k}, {form}}}" for i, (k, form, _) in enumerate(joints)])
    text += listed("cracks", cracks(floor))
    text += listed("spalls", spalls(floor, joints))
    text += listed("lippage", lippage(floor, joints))
    uncoated, faces = uncoated_parts(floor), face_lines(floor)
    text += listed("blemishes", awkward.blemishes(floor))
    text += listed("levels", awkward.levels(floor))
    text += ["coating:"] + awkward.poured(floor) + listed("  uncoated", uncoated, "  ") + listed("  faces", faces, "  ")
    return "\n".join(text) + "\n"


def listed(key, items, indent=""):
    return [f"{key}:"] + [f"{indent}  - {item}" for item in items] if items else []


# What is cut out of the floor.


def keep_outs(floor):
    dice, pen, at = floor.dice, floor.pen, floor.at
    items = []

    def add(what, shape):
        flush = ", flush: true" if dice.chance(0.2) else ""
        items.append(f"{{id: K{len(items) + 1}, what: {what}{flush}, {shape}}}")

    for _ in range(dice.whole(0, 3)):
        add("post", floor.shape(*floor.somewhere(), at(dice.real(0.15, 0.6)), at(dice.real(0.15, 0.6))))
    if dice.chance(0.4):  # two pads that overlap
        x, y = floor.somewhere(1.5)
        add("pad", floor.shape(x, y, at(1.2), at(0.9)))
        add("pad", floor.shape(x + 0.5, y + 0.35, at(0.8), at(1.1)))
    if floor.square and dice.chance(0.4):  # two boxes that share an edge
        x, y = (at(v) for v in floor.somewhere(1.5))
        w, h = at(dice.real(0.3, 0.8)), at(dice.real(0.3, 0.8))
        add("cabinet", f"box: {{corner: {pen.point((x, y))}, size: [{pen.length(w)}, {pen.length(h)}]}}")
        add("cabinet", f"box: {{corner: {pen.point((x + w, y))}, size: [{pen.length(w)}, {pen.length(at(h * 0.7))}]}}")
    if floor.kind in ("rectangle", "l", "u", "bay") and dice.chance(0.4):  # a pier that touches the wall
        w, h = at(dice.real(0.2, 0.5)), at(dice.real(0.2, 0.5))
        add("pier", f"box: {{corner: {pen.point((at(dice.real(0.3, 0.5) * floor.w), 0.0))}, size: [{pen.length(w)}, {pen.length(h)}]}}")
    for what, shape in awkward.holes(floor):
        add(what, shape)
    if dice.chance(0.3):  # sticks out of the outline
        i = dice.whole(0, len(floor.corners) - 1)
        (ax, ay), (bx, by) = floor.corners[i], floor.corners[(i + 1) % len(floor.corners)]
        x, y, w = at((ax + bx) / 2), at((ay + by) / 2), at(dice.real(0.5, 1.1))
        add("machine", f"circle: {{center: {pen.point((x, y))}, diameter: {pen.length(w)}}}")
    return items


def wall_runs(floor):
    """Straight walls over 2 m as (number, length). A walked outline is left alone: its corners move."""
    if floor.kind in ("walk", "bay", "rounded", "stadium"):
        return [(1, math.dist(floor.corners[0], floor.corners[1]))] if floor.kind != "walk" else []
    c = floor.corners
    runs = [(i + 1, math.dist(c[i], c[(i + 1) % len(c)])) for i in range(len(c))]
    return [(i, r) for i, r in runs if r > 2]


def openings(floor):
    walls = wall_runs(floor)
    if not walls or not floor.dice.chance(0.6):
        return []
    wall, run = floor.dice.one(walls)
    a, b = (floor.at(run * floor.dice.real(*span)) for span in ((0.1, 0.4), (0.6, 0.9)))
    floor.openings.append((wall, a, b))
    return [f"{{name: door, wall: {wall}, from: {floor.pen.length(a)}, to: {floor.pen.length(b)}}}"]


def uncoated_parts(floor):
    dice, at, items = floor.dice, floor.at, []
    if floor.kind in ("rectangle", "u", "bay") and dice.chance(0.4) and floor.corners[1][1] == 0:  # a sill along the lower wall
        x, w = at(floor.w * dice.real(0.1, 0.3)), at(floor.w * dice.real(0.2, 0.5))
        items.append(f"box: {{corner: {floor.pen.point((x, 0.0))}, size: [{floor.pen.length(w)}, {floor.pen.length(at(0.13))}]}}")
    for _ in range(dice.whole(0, 2)):
        items.append(floor.shape(*floor.somewhere(1.0), at(dice.real(0.5, 1.5)), at(dice.real(0.5, 1.5))))
    return [f"{{id: U{i + 1}, what: left bare, {item}}}" for i, item in enumerate(items)]


def face_lines(floor):
    if not floor.dice.chance(0.4):
        return []
    path = floor.pen.path(floor.corners[: floor.dice.whole(2, 3)])
    return [f"{{name: curb, path: {path}, height: {floor.pen.small(floor.dice.whole(3, 9))}}}"]


# Joints: (kind, text, path in metres or None).


def joints_of(floor):
    dice, pen = floor.dice, floor.pen
    made = []

    def path(points, kind="control"):
        made.append((kind, f"path: {pen.path(points)}", points))

    grid(floor, made, path)
    for extra in (oblique, dangling, near_miss, doubled, doubled_off, curved, diamond, wall_joint, awkward.end_to_end):
        if dice.chance(0.3):
            extra(floor, made, path)
    return made


def grid(floor, made, path):
    """Sawn joints across the floor both ways."""
    dice, pen, at = floor.dice, floor.pen, floor.at
    for axis, (span, other) in enumerate(((floor.w, floor.h), (floor.h, floor.w))):
        count = max(1, round(span / dice.real(2.5, 4.5)) - 1)
        for i in range(count):
            v = at(span * (i + 1) / (count + 1) + dice.real(-0.3, 0.3))
            if floor.square and dice.chance(0.6):
                made.append(("control", f"{'xy'[axis]}: {pen.length(v)}", None))
            elif dice.chance(0.2):  # stops somewhere on the floor, or on a crossing joint
                path([floor.p(*turned(axis, v, e)) for e in (-0.3, other * dice.real(0.4, 0.7))])
            else:
                path([floor.p(*turned(axis, v, e)) for e in (-0.4, other + 0.4)])


def turned(axis, across, along):
    return (across, along) if axis == 0 else (along, across)


def oblique(floor, made, path):
    a, b = floor.dice.real(0.1, 0.9), floor.dice.real(0.1, 0.9)
    path([floor.p(floor.w * a, -0.5), floor.p(floor.w * b, floor.h + 0.5)], "construction")


def dangling(floor, made, path):
    x, y = floor.somewhere(1.5)
    t, r = floor.dice.real(0, 6.28), floor.dice.real(0.4, 1.2)
    path([floor.p(x, y), floor.p(x + r * math.cos(t), y + r * math.sin(t)), floor.p(x + 1.7 * r * math.cos(t + 0.4), y + 1.7 * r * math.sin(t + 0.4))])


def straight(made):
    return [p for _, _, p in made if p and len(p) == 2 and not isinstance(p[1][0], tuple)]


def near_miss(floor, made, path):
    """Runs from one wall towards another joint and stops 0.5 to 1.9 in short of it, square or aslant."""
    if not straight(made):
        return
    (ax, ay), (bx, by) = floor.dice.one(straight(made))
    run, f = math.dist((ax, ay), (bx, by)), floor.dice.real(0.25, 0.75)
    ux, uy = (bx - ax) / run, (by - ay) / run
    side, lean, gap = floor.dice.one([-1, 1]), floor.dice.real(-0.6, 0.6), floor.dice.real(0.5, 1.85) * INCH
    nx, ny = -uy * side + ux * lean, ux * side + uy * lean
    far = floor.dice.one([1.1, 2.0, 9.0])
    path([(floor.at(ax + (bx - ax) * f + nx * d), floor.at(ay + (by - ay) * f + ny * d)) for d in (gap, far)])


def doubled(floor, made, path):
    """The same line again, backwards, whole or in part, exactly on top."""
    if not straight(made):
        return
    a, b = floor.dice.one(straight(made))
    if floor.dice.chance(0.5) and (a[0] == b[0] or a[1] == b[1]):
        f, g = floor.dice.real(0.2, 0.4), floor.dice.real(0.6, 1.3)
        path([(floor.at(a[0] + (b[0] - a[0]) * k), floor.at(a[1] + (b[1] - a[1]) * k)) for k in (g, f)])
    else:
        # The exact line and something that goes on from its end.
        c = (floor.at(b[0] + 0.2), floor.at(b[1] + 0.3))
        path([c, b, a] if floor.dice.chance(0.5) else [b, a])


def doubled_off(floor, made, path):
    """The same line in part, up to a sixteenth to the side."""
    if not straight(made):
        return
    a, b = floor.dice.one(straight(made))
    run, off = math.dist(a, b), floor.dice.one([-1, 1]) * floor.dice.real(0.3, 1.0) * INCH / 16
    nx, ny = -(b[1] - a[1]) / run * off, (b[0] - a[0]) / run * off
    f, g = floor.dice.real(0.2, 0.4), floor.dice.real(0.6, 1.2)
    path([(floor.at(a[0] + (b[0] - a[0]) * k + nx), floor.at(a[1] + (b[1] - a[1]) * k + ny)) for k in (f, g)])


def curved(floor, made, path):
    y = floor.h * floor.dice.real(0.3, 0.7)
    rise = floor.dice.real(0.4, 1.2) * floor.dice.one([-1, 1])
    arc = (floor.p(floor.w + 0.5, y), floor.p(floor.w / 2, y + rise))
    path([floor.p(-0.5, y), arc], "construction")


def diamond(floor, made, path):
    """An isolation joint around a column, closed on itself."""
    x, y = floor.somewhere(1.2)
    r = floor.dice.real(0.35, 0.6)
    around = [floor.p(x + r, y), floor.p(x, y + r), floor.p(x - r, y), floor.p(x, y - r)]
    path(around + around[:1], "isolation")


def wall_joint(floor, made, path):
    """An isolation joint along a wall, on the very edge of the slab."""
    if floor.kind in ("walk", "bay", "rounded", "stadium"):
        path([floor.corners[0], floor.corners[1]] if floor.kind != "walk" else [floor.p(0, 0.5), floor.p(1.2, 0.5)], "isolation")
        return
    i = floor.dice.whole(0, len(floor.corners) - 1)
    path([floor.corners[i], floor.corners[(i + 1) % len(floor.corners)]], "isolation")


# Defects.


def cracks(floor):
    items = []
    for i in range(floor.dice.whole(0, 3)):
        x, y = floor.somewhere(0.3)
        t, points = floor.dice.real(0, 6.28), []
        for _ in range(floor.dice.whole(2, 7)):
            points.append(floor.p(x, y))
            t += floor.dice.real(-0.7, 0.7)
            r = floor.dice.real(0.3, 1.0)
            x, y = x + r * math.cos(t), y + r * math.sin(t)
        items.append(f"{{id: C{i + 1}, path: {floor.pen.path(points)}, {awkward.widths(floor, points)}, movement: dormant}}")
    return items


def spalls(floor, joints):
    """Shallow ones and deep ones; now and then two deep ones side by side, to be patched as one."""
    dice, at, pen, items = floor.dice, floor.at, floor.pen, []

    def add(shape, depth):
        items.append(f"{{id: S{len(items) + 1}, {shape}, depth: {pen.small(depth)}}}")

    for _ in range(dice.whole(0, 3)):
        add(floor.shape(*floor.somewhere(), at(dice.real(0.08, 0.4)), at(dice.real(0.08, 0.3))), dice.one([0.25, 0.375, 0.75, 1.0]))
    if dice.chance(0.25):
        x, y = floor.somewhere(1.2)
        t = dice.real(0.2, 1.3)
        for dx in (0.0, 0.45):
            w, h, c, s = dice.real(0.1, 0.25), dice.real(0.1, 0.2), math.cos(t), math.sin(t)
            ring = [floor.p(x + dx + i * w * c - j * h * s, y + i * w * s + j * h * c) for i, j in SPALL]
            add(f"polygon: {pen.path(ring)}", 1.0)
    for shape, depth in awkward.spalls(floor, joints):
        add(shape, depth)
    return items


def lippage(floor, joints):
    dice, pen, items = floor.dice, floor.pen, []
    for i, (_, _, points) in enumerate(joints):
        if points and not (len(points) == 2 and not isinstance(points[1][0], tuple)) or not dice.chance(0.35):
            continue
        run = math.dist(*points) if points else min(floor.w, floor.h) * 0.5
        count = dice.whole(2, 6)
        stations = sorted(floor.at(run * (k + dice.real(0.1, 0.9)) / count) for k in range(count))
        steps = [dice.whole(0, 8) / 16 for _ in stations]
        heights = ["null" if dice.chance(0.1) and 1 < k < count - 1 else pen.small(h) for k, h in enumerate(steps)]
        readings = ", ".join(f"[{pen.length(s)}, {h}]" for s, h in zip(stations, heights))
        items.append(f"{{id: L{len(items) + 1}, along: J{i + 1}, high: {dice.one(['left', 'right'])}, readings: [{readings}]}}")
    items += [f"{{id: L{len(items) + i + 1}, {step}}}" for i, step in enumerate(awkward.steps(floor))]
    return items
