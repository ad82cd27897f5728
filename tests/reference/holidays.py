"""Federal holidays of the United States by the Python package holidays.

Writes holidays.csv beside this file: for each year the holidays by their own dates, and those on which a crew stays at home that
works from Monday to Friday. Run it again after changing it: python3 holidays.py
"""

import pathlib
import sys

# This file has the name of the package.
sys.path = [path for path in sys.path if pathlib.Path(path or ".").resolve() != pathlib.Path(__file__).resolve().parent]
import holidays  # noqa: E402

YEARS = range(2020, 2041)


def days(year, observed):
    # The day of rest for a New Year's Day on a Saturday is the last of the year before.
    found = holidays.US(years=(year, year + 1), observed=observed)
    return [str(day) for day in sorted(found) if day.year == year and (not observed or day.weekday() < 5)]


def main():
    lines = ["year,dates,kept"]
    lines += [f"{year},{' '.join(days(year, False))},{' '.join(days(year, True))}" for year in YEARS]
    pathlib.Path(__file__).with_suffix(".csv").write_text("\n".join(lines) + "\n")


main()
