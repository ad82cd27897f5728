"""Dew points by MetPy, for a grid of air temperatures and humidities.

Writes dew_point.csv beside this file. MetPy takes Bolton's formula (Mon. Wea. Rev. 108, 1980), with other constants
than the program's (Alduchov and Eskridge 1996). Run it again after changing it: python3 dew_point.py
"""

import pathlib

from metpy.calc import dewpoint_from_relative_humidity
from metpy.units import units


def rows():
    for tenths in range(-100, 451, 25):
        for percent in range(5, 101, 5):
            air = tenths / 10
            dew = dewpoint_from_relative_humidity(units.Quantity(air, "degC"), percent * units.percent)
            yield air, percent, dew.m_as("degC")


def main():
    lines = ["air_c,humidity_percent,dew_point_c"] + [f"{air:.1f},{percent},{dew:.6f}" for air, percent, dew in rows()]
    pathlib.Path(__file__).with_suffix(".csv").write_text("\n".join(lines) + "\n")


main()
