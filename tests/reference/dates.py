"""Working days by NumPy's business-day calendar, and plain days by Python's datetime.

Writes dates.csv beside this file: for a first day the days on which a crew works, with and without weekends.
Run it again after changing it: python3 dates.py
"""

import datetime
import pathlib

import numpy as np

# How many days of each plan are held against it.
DAYS = 15
# Ends of months and years, both kinds of leap year, a century that is none (2100) and one that is (2000), and a week of
# starts, so that every weekday is a first day.
STARTS = ["2000-02-25", "2023-02-24", "2024-02-26", "2024-02-29", "2027-12-30", "2028-02-28", "2096-02-28", "2100-02-26"]
STARTS += [f"2026-{month:02d}-{day}" for month, day in ((1, 30), (3, 31), (4, 29), (6, 26), (7, 31), (9, 28), (10, 30), (11, 27), (12, 24))]
STARTS += [f"2026-09-{day}" for day in range(14, 21)]


def working_days(start):
    return [str(np.busday_offset(start, k, roll="forward")) for k in range(DAYS)]


def all_days(start):
    first = datetime.date.fromisoformat(start)
    return [str(first + datetime.timedelta(days=k)) for k in range(DAYS)]


def main():
    lines = ["first,weekends,days"]
    for start in STARTS:
        lines += [f"{start},no,{' '.join(working_days(start))}", f"{start},yes,{' '.join(all_days(start))}"]
    pathlib.Path(__file__).with_suffix(".csv").write_text("\n".join(lines) + "\n")


main()
