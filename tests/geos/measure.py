"""All reference values of one sketch, under the keys of the takeoff's JSON."""

import shapely
from areas import Areas, patches, smallest_rectangle
from lengths import INCH
from lines import Lines
from lippage import lippage
from sketch import Sketch

DECIMALS = 7


def with_joint(sketch, shape):
    """Under 6 in long and 1.5 in wide, and on a joint: filled with it."""
    half = sorted(smallest_rectangle(shape)[2:])
    small = half[1] < 3 * INCH - 1e-9 and half[0] < 0.75 * INCH - 1e-9
    return small and any(shape.intersects(shapely.LineString(line)) for _, line in sketch.joints)


def spalls(sketch):
    items = [(i["id"], i, sketch.shape(i)) for i in sketch.file.get("spalls") or []]
    deep = sketch.rule("spalls", "cut_out_from", '1/2"')
    cut = [(name, shape) for name, item, shape in items if sketch.small(item["depth"]) >= deep - 1e-12 and not with_joint(sketch, shape)]
    patched = patches(cut, sketch.rule("spalls", "extend", '3"'), 12 * 0.0254)
    return [{"id": name, "area_m2": shape.area, "patch_m2": patched.get(name)} for name, _, shape in items]


def rounded(value):
    if isinstance(value, float):
        return round(value, DECIMALS) + 0.0
    if isinstance(value, dict):
        return {k: rounded(v) for k, v in value.items()}
    if isinstance(value, list):
        return [rounded(v) for v in value]
    return value


def measure(text, folder=None):
    """The values, rounded to a tenth of a micron, a tenth of a square millimetre."""
    sketch = Sketch(text, folder)
    areas = Areas(sketch)
    lines = Lines(sketch, areas)
    panels = lines.panels()
    records, bands = lippage(sketch, areas.k)
    assert abs(sum(p.area for p in panels) - areas.r.area) < 1e-5, "panels do not add up to the floor"
    values = {
        "area": areas.values(),
        "edge_m": areas.k.boundary.length,
        "termination_m": areas.termination(),
        "misclosure_m": sketch.misclosure,
        "panels_m2": [p.area for p in panels],
        "panel_edge_m": [p.length for p in panels],
        "panel_slack_m2": lines.slack,
        "joints": [{"id": n, "length_m": v} for (n, _), v in zip(sketch.joints, lines.joint_lengths())],
        "cracks": [{"id": n, "length_m": v} for (n, _), v in zip(sketch.cracks, lines.crack_lengths())],
        "spalls": spalls(sketch),
        "lippage": records,
        "totals": {"hand_grind_m": float(sum(r["hand_length_m"] for r in records)), "hand_grind_m2": bands},
    }
    return rounded(values)
