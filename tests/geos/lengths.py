"""Lengths as a sketch writes them, read into metres. Written apart from the program it checks."""

import re

FOOT = 0.3048
INCH = 0.0254
VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
NUMBER = r"(?:\d+[ -]+\d+/\d+|\d+/\d+|\d+\.?\d*|\.\d+)"
METRIC = re.compile(rf"^(-?)({NUMBER})\s*(mm|cm|m)$")
TAPE = re.compile(rf"^(-?)(?:({NUMBER})\s*(?:'|ft))?[\s-]*(?:({NUMBER})\s*(?:\"|in))?$")
BARE = re.compile(rf"^(-?)({NUMBER})$")


def number(text):
    """`3 1/2`, `3-1/2`, `1/4`, `24.5` as a float."""
    total = 0.0
    for part in re.split(r"[ -]+", text):
        top, _, bottom = part.partition("/")
        total += float(top) / float(bottom) if bottom else float(top)
    return total


def metres(text, bare):
    """The length in metres; `bare` is the metres that a number without a unit stands for."""
    text = str(text).strip()
    for mark, plain in {"′": "'", "’": "'", "″": '"', "”": '"'}.items():
        text = text.replace(mark, plain)
    for mark, plain in VULGAR.items():
        text = re.sub(rf"(\d)?{mark}", lambda m, p=plain: f"{m.group(1)} {p}" if m.group(1) else p, text)
    if found := BARE.match(text):
        value = number(found.group(2)) * bare
    elif found := METRIC.match(text):
        value = number(found.group(2)) * {"mm": 0.001, "cm": 0.01, "m": 1.0}[found.group(3)]
    elif (found := TAPE.match(text)) and (found.group(2) or found.group(3)):
        value = number(found.group(2) or "0") * FOOT + number(found.group(3) or "0") * INCH
    else:
        raise ValueError(f"not a length: {text!r}")
    return -value if found.group(1) else value
