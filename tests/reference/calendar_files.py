"""Reads the calendar files of the demonstration packets with the package icalendar and holds them against days.json.

By hand: python3 tests/reference/calendar_files.py
"""

import datetime
import json
import pathlib

import icalendar
import numpy as np

OUT = pathlib.Path(__file__).resolve().parent.parent.parent / "out"


def moment(date, hour):
    return datetime.datetime.fromisoformat(date) + datetime.timedelta(minutes=round(hour * 60))


def wanted(plan):
    """(start, end) of each working day, then the moments of foot and vehicles, which have no end."""
    for day in plan["days"]:
        pieces = day["pieces"]
        yield moment(day["date"], pieces[0]["from_h"]), moment(day["date"], pieces[-1]["to_h"])
    for key in ("foot", "vehicles"):
        if plan.get(key):
            yield moment(plan[key]["date"], plan[key]["hour"]), None


def check(file):
    plan = json.loads((file.parent / "days.json").read_text(encoding="utf-8"))
    calendar = icalendar.Calendar.from_ical(file.read_bytes())
    events = calendar.walk("VEVENT")
    assert not calendar.errors and not any(e.errors for e in events), "errors in the file"
    found = [(e.decoded("DTSTART"), e.decoded("DTEND", None)) for e in events]
    assert found == list(wanted(plan)), f"{file}: {found} for {list(wanted(plan))}"
    assert len({e["UID"] for e in events}) == len(events), "two events of one name"
    assert all(e["DTSTAMP"].dt.tzinfo is not None for e in events), "a stamp without a zone"
    assert all(np.is_busday(day["date"]) for day in plan["days"]), "work on a day off"
    print(f"{file.relative_to(OUT)}: {len(events)} events as in days.json")


for file in sorted(OUT.glob("*/days.ics")):
    check(file)
