"""All reference values of one sketch, under the keys of the takeoff's JSON."""

import math

import shapely
from areas import Areas, smallest_rectangle
from further import blemishes, boxes, cracks, joints, levels, pour_lines, treatment
from lengths import INCH
from lines import Lines, piece
from lippage import lippage
from patches import POP_OUT, alone, cut, merged, taken_in
from sketch import Sketch

DECIMALS = 7


ON_JOINT = INCH / 8  # metres within which a small spall lies on a joint


def small(shape):
    """Under 6 in long and 1.5 in wide."""
    x0, y0, x1, y1 = shape.bounds
    if math.hypot(x1 - x0, y1 - y0) > 9 * INCH:
        return False
    half = sorted(smallest_rectangle(shape)[2:])
    return half[1] < 3 * INCH - 1e-9 and half[0] < 0.75 * INCH - 1e-9


def filled_lines(sketch, lines):
    """What of the filled joints is in scope."""
    rows = zip(sketch.file.get("joints") or [], sketch.joints, lines.scopes)
    return [shapely.LineString(piece(line, a, b)) for item, (_, line), scope in rows if treatment(sketch, item) == "fill" for a, b in scope]


def parts(sketch, areas):
    """What of each spall lies on the coated floor, by id."""
    found = {item["id"]: sketch.shape(item) for item in sketch.file.get("spalls") or []}
    return {name: shape if areas.k.contains(shape) else shape.intersection(areas.k) for name, shape in found.items()}


def sorted_out(sketch, lines, found):
    """The spalls that are cut out, and the others that are mended: ids."""
    deep, filled = sketch.rule("spalls", "cut_out_from", '1/2"'), filled_lines(sketch, lines)
    out, others = [], []
    for item in sketch.file.get("spalls") or []:
        part = found[item["id"]]
        if part.area == 0:
            continue
        with_joint = small(part) and any(part.distance(line) <= ON_JOINT for line in filled)
        pop_out = 2 * max(smallest_rectangle(part)[2:]) <= POP_OUT + 1e-9
        cut_out = sketch.small(item["depth"]) >= deep - 1e-12 and not with_joint and not pop_out
        (out if cut_out else others).append(item["id"])
    return out, others


def obstacles(sketch, lines):
    """What no patch is merged across: joints in scope, keep-outs."""
    pieces = [shapely.LineString(piece(line, a, b)) for (_, line), scope in zip(sketch.joints, lines.scopes) for a, b in scope]
    return shapely.union_all(pieces), shapely.union_all(sketch.keep_outs)


def spalls(sketch, lines):
    """The records, and the patches with their sides."""
    found = parts(sketch, lines.areas)
    out, others = sorted_out(sketch, lines, found)
    rough = merged([alone(name, found[name]) for name in out], *obstacles(sketch, lines))
    done = list(cut(taken_in(rough, found, others), lines.areas.k))
    patched = {name: area for patch, area in done for name in patch.names}
    records = [{"id": name, "area_m2": part.area, "patch_m2": patched.get(name)} for name, part in found.items()]
    sides = {" ".join(sorted(p.names)): sorted(2 * h for h in smallest_rectangle(p.shape)[2:]) for p, _ in done}
    return records, [{"spalls": k, "width_m": w, "length_m": l} for k, (w, l) in sorted(sides.items())]


def rounded(value):
    if isinstance(value, float):
        return round(value, DECIMALS) + 0.0
    if isinstance(value, dict):
        return {k: rounded(v) for k, v in value.items()}
    if isinstance(value, list):
        return [rounded(v) for v in value]
    return value


def measure(text, folder=None):
    """The values of a sketch, rounded to a tenth of a micron, a tenth of a square millimetre."""
    sketch = Sketch(text, folder)
    areas = Areas(sketch)
    lines = Lines(sketch, areas)
    return values(sketch, areas, lines, lines.panels())


def about(lines, panels):
    assert abs(sum(p.area for p in panels) - lines.areas.r.area) < 1e-5, "panels do not add up to the floor"
    return {"panels_m2": [p.area for p in panels], "panel_edge_m": [p.length for p in panels], "panel_slack_m2": lines.slack}


def values(sketch, areas, lines, panels):
    records, bands = lippage(sketch, areas.k)
    broken, patched = spalls(sketch, lines)
    found = {
        "area": areas.values(),
        "edge_m": areas.k.boundary.length,
        "termination_m": areas.termination(),
        "misclosure_m": sketch.misclosure,
        **about(lines, panels),
        "panel_boxes": boxes(panels),
        "joints": joints(sketch, lines),
        "cracks": cracks(sketch, lines),
        "spalls": broken,
        "patches": patched,
        "lippage": records,
        "blemishes": blemishes(sketch, areas),
        "pour_lines": pour_lines(sketch, areas),
        "levels": levels(sketch),
        "totals": {"hand_grind_m": float(sum(r["hand_length_m"] for r in records)), "hand_grind_m2": bands},
    }
    return rounded(found)
