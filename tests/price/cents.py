"""Reference values for the arithmetic of prices, from Python's decimal module.

Writes cents.csv beside this file: quantity times rate, and cost over one less the margin, each
rounded to cents with ROUND_HALF_UP. Run it again after changing it: python3 cents.py
"""

import pathlib
import random
from decimal import ROUND_HALF_UP, Decimal, getcontext

getcontext().prec = 60
CENT = Decimal("0.01")


def number(source, digits, places):
    return Decimal(source.randrange(10**digits)).scaleb(-places)


def rows():
    source = random.Random(20260914)
    edges = [("7.25", "65.5"), ("0.5", "0.01"), ("1.5", "0.01"), ("1", "0.005"), ("3", "0.335"), ("0", "9.99")]
    pairs = [(Decimal(a), Decimal(b)) for a, b in edges]
    pairs += [(number(source, 6, 2), number(source, 7, 4)) for _ in range(300)]
    for quantity, rate in pairs:
        yield "line", quantity, rate, (quantity * rate).quantize(CENT, ROUND_HALF_UP)
    edges = [("80000", "0.2"), ("30000", "0.5"), ("0.01", "0.999"), ("100", "0.3333"), ("0.67", "0.33")]
    pairs = [(Decimal(a), Decimal(b)) for a, b in edges]
    pairs += [(number(source, 8, 2), number(source, 4, 4)) for _ in range(300)]
    for cost, margin in pairs:
        yield "price", cost, margin, (cost / (1 - margin)).quantize(CENT, ROUND_HALF_UP)


def main():
    lines = ["what,first,second,result"]
    lines += [f"{what},{first:f},{second:f},{result:f}" for what, first, second, result in rows()]
    pathlib.Path(__file__).with_suffix(".csv").write_text("\n".join(lines) + "\n")


main()
