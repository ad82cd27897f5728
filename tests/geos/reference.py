"""Reference quantities of floors by Shapely (GEOS), made apart from the program that they check.

    python3 tests/geos/reference.py --write    makes random.json, contacts.json, buildings.json and demos.json again
    python3 tests/geos/reference.py --check    makes their values in memory; names what differs and exits 1
    python3 tests/geos/reference.py --floors 2000    so many random floors into .target/geos/many.json, for
        cargo test --test program many_random_floors -- --ignored
    python3 tests/geos/reference.py --contacts 2000    so many floors on which things touch, for many_floors_that_touch

`--write` looks for floors on which no rule decides by a hair (judge.py) and notes the try that it took;
`--check` makes the noted try again. Needs the packages of requirements.txt (pip install --no-deps -r).
"""

import argparse
import itertools
import json
import multiprocessing
import pathlib
import sys

HERE = pathlib.Path(__file__).resolve().parent
sys.path.insert(0, str(HERE))

import buildings  # noqa: E402
import contacts  # noqa: E402
import random_floors  # noqa: E402
from measure import DECIMALS, measure  # noqa: E402

# 200 floors come of the first ones; on each of the others a fault was found, with `--floors 2000`.
SEEDS = [*range(1, 217), 622, 976, 1006, 1332]
CONTACT_SEEDS = range(1, 161)
MADE = HERE.parent.parent / ".target/geos"
# Two machines may round a last bit apart; anything more is a difference.
LAST_PLACE = 2.5 * 10.0**-DECIMALS


def random_floor(job):
    seed, attempt = job
    if attempt is None:
        return random_floors.make(seed)
    return again(seed, attempt, random_floors.sketch_text)


def contact_floor(job):
    seed, attempt = job
    if attempt is None:
        return contacts.make(seed)
    return contacts.made(seed, attempt)


def building_floor(job):
    fid, polygon, attempt = job
    if attempt is None:
        return random_floors.make(fid, buildings.text_of(polygon), tries=40)
    return again(fid, attempt, buildings.text_of(polygon))


def again(seed, attempt, text_of):
    text = text_of(seed, attempt)
    return {"seed": seed, "try": attempt, "sketch": text, "reference": measure(text)}


def stored(name):
    return json.loads((HERE / name).read_text(encoding="utf-8"))


def make_random(pool, check):
    jobs = [(f["seed"], f["try"]) for f in stored("random.json")["floors"]] if check else [(s, None) for s in SEEDS]
    return {"floors": whole(pool.map(random_floor, jobs, chunksize=1))}


def make_contacts(pool, check):
    jobs = [(f["seed"], f["try"]) for f in stored("contacts.json")["floors"]] if check else [(s, None) for s in CONTACT_SEEDS]
    return {"floors": whole(pool.map(contact_floor, jobs, chunksize=1))}


def make_buildings(pool, check):
    shapes = buildings.outlines()
    tries = [(f["seed"], f["try"]) for f in stored("buildings.json")["floors"]] if check else [(f, None) for f in shapes]
    floors = pool.map(building_floor, [(fid, shapes[fid], attempt) for fid, attempt in tries], chunksize=1)
    return {"source": buildings.SOURCE, "floors": whole(floors)}


def whole(floors):
    """The floors that were found. Some outlines have a slot or a sliver in them whatever is laid on them."""
    return [f for f in floors if f is not None]


def make_demos(_pool, _check):
    """The demonstration floors, whichever there are."""
    folder = HERE.parent.parent / "sketches"
    floors = []
    for file in sorted(folder.glob("*.yaml")):
        text = file.read_text(encoding="utf-8")
        if "slabwalk:" not in text:
            continue  # a shop book
        floors.append({"file": f"sketches/{file.name}", "reference": measure(text, folder)})
    return {"floors": floors}


FILES = {"random.json": make_random, "contacts.json": make_contacts, "buildings.json": make_buildings, "demos.json": make_demos}


def differences(old, new, where):
    """Every place where two values differ, as text."""
    if isinstance(old, dict) and isinstance(new, dict):
        for key in sorted(old.keys() | new.keys()):
            yield from differences(old.get(key), new.get(key), f"{where}.{key}")
    elif isinstance(old, list) and isinstance(new, list) and len(old) == len(new):
        for i, (a, b) in enumerate(zip(old, new)):
            name = a.get("seed", a.get("file", a.get("id", i))) if isinstance(a, dict) else i
            yield from differences(a, b, f"{where}[{name}]")
    elif isinstance(old, float) and isinstance(new, float):
        if abs(old - new) > LAST_PLACE:
            yield f"{where}: {old} stored, {new} now"
    elif old != new:
        yield f"{where}: {str(old)[:80]} stored, {str(new)[:80]} now"


def written(values):
    """JSON with one floor a line, so that a change to a floor is a change to a line."""
    head = {k: v for k, v in values.items() if k != "floors"}
    lines = ",\n".join(json.dumps(f, ensure_ascii=False) for f in values["floors"])
    start = "".join(f"{json.dumps(k)}: {json.dumps(v, ensure_ascii=False)},\n" for k, v in head.items())
    return "{" + start + '"floors": [\n' + lines + "\n]}\n"


def many(pool, count, floor, name):
    """The first so many floors of all seeds. What is made already is kept, so that a run that was broken off goes on."""
    MADE.mkdir(parents=True, exist_ok=True)
    lines = MADE / f"{name}.lines"
    text = lines.read_text(encoding="utf-8") if lines.exists() else ""
    known = {seed: made for seed, made, _ in map(json.loads, text.splitlines())}
    made = sum(f is not None for f in known.values())
    todo = ((floor, seed) for seed in range(1, 2 * count) if seed not in known)
    with lines.open("a", encoding="utf-8") as file:
        while made < count and (batch := list(itertools.islice(todo, 200))):
            for seed, *found in pool.imap_unordered(seed_and_floor, batch):
                known[seed] = found[0]
                made += found[0] is not None
                file.write(json.dumps([seed, *found], ensure_ascii=False) + "\n")
                file.flush()
            floors = whole(known[seed] for seed in sorted(known))[:count]
            (MADE / f"{name}.json").write_text(written({"floors": floors}), encoding="utf-8")
    print(f"{len(whole(known.values()))} floors of {len(known)} seeds in {MADE / name}.json")
    for seed, _, why in map(json.loads, lines.read_text(encoding="utf-8").splitlines()):
        if why:
            print(f"seed {seed} has no reference: {why}")


def seed_and_floor(job):
    """A floor, or why the reference could not prove its own figures; then it has none."""
    floor, seed = job
    try:
        return seed, floor((seed, None)), None
    except AssertionError as why:
        return seed, None, str(why)


def main():
    options = argparse.ArgumentParser(description="Reference quantities by Shapely.")
    mode = options.add_mutually_exclusive_group(required=True)
    mode.add_argument("--write", action="store_true")
    mode.add_argument("--check", action="store_true")
    mode.add_argument("--floors", type=int, metavar="N")
    mode.add_argument("--contacts", type=int, metavar="N")
    options.add_argument("--only", choices=sorted(FILES), help="this file alone")
    chosen = options.parse_args()
    failed = False
    with multiprocessing.Pool() as pool:
        if chosen.floors:
            many(pool, chosen.floors, random_floor, "many")
            return 0
        if chosen.contacts:
            many(pool, chosen.contacts, contact_floor, "many-contacts")
            return 0
        for name, make in FILES.items():
            if chosen.only not in (None, name):
                continue
            values = make(pool, chosen.check)
            if chosen.write:
                (HERE / name).write_text(written(values), encoding="utf-8")
                continue
            found = list(differences(stored(name), json.loads(written(values)), name))
            print("\n".join(found) or f"{name}: {len(values['floors'])} floors as stored")
            failed = failed or bool(found)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
