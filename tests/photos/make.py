"""Draws the demonstration photographs: invented pictures of concrete, no camera's.

    python3 tests/photos/make.py     writes sketches/photos/*.jpg and *.png

Needs Pillow. The same numbers every time: the noise comes from a fixed seed.
"""

import random
from pathlib import Path

from PIL import Image, ImageDraw, ImageFilter

TARGET = Path(__file__).resolve().parents[2] / "sketches" / "photos"
SIZE = (640, 480)


def concrete(seed, size=SIZE, tone=158):
    """Gray noise at three grains, like a troweled slab."""
    rng = random.Random(seed)
    out = Image.new("L", size, tone)
    for grain, depth in ((4, 12), (24, 14), (90, 22)):
        small = (max(2, size[0] // grain), max(2, size[1] // grain))
        noise = Image.new("L", small)
        noise.putdata([128 + rng.randint(-depth, depth) for _ in range(small[0] * small[1])])
        noise = noise.resize(size, Image.BICUBIC)
        out = Image.blend(out, Image.merge("L", [noise.point(lambda v: v + tone - 128)]), 0.45)
    tint = out.convert("RGB")
    return Image.blend(tint, Image.new("RGB", size, (150, 146, 136)), 0.15)


def jagged(rng, start, end, steps, sway):
    points = []
    for i in range(steps + 1):
        share = i / steps
        x = start[0] + (end[0] - start[0]) * share + rng.uniform(-sway, sway)
        y = start[1] + (end[1] - start[1]) * share + rng.uniform(-sway, sway)
        points.append((x, y))
    return points


def crack(picture, seed, start, end, width):
    rng = random.Random(seed)
    draw = ImageDraw.Draw(picture)
    points = jagged(rng, start, end, 18, 11)
    draw.line([(x + 2, y + 2) for x, y in points], fill=(196, 192, 184), width=width)
    draw.line(points, fill=(38, 36, 33), width=width, joint="curve")
    return picture


def tape(picture, y):
    """A rule lying on the floor, for scale."""
    draw = ImageDraw.Draw(picture)
    w = picture.width
    draw.rectangle([40, y, w - 60, y + 34], fill=(222, 190, 60), outline=(90, 74, 20))
    for i in range(0, w - 100, 9):
        long = 22 if i % 72 == 0 else 14 if i % 36 == 0 else 8
        draw.line([(40 + i, y), (40 + i, y + long)], fill=(30, 28, 20), width=2)
    return picture


def joint(picture, width, tone=(44, 42, 40)):
    draw = ImageDraw.Draw(picture)
    x = picture.width // 2
    draw.rectangle([x - width, 0, x + width, picture.height], fill=tone)
    draw.line([(x - width, 0), (x - width, picture.height)], fill=(200, 196, 188), width=2)
    return picture


def save(picture, name, orientation=None):
    picture = picture.filter(ImageFilter.GaussianBlur(0.8))
    exif = Image.Exif()
    if orientation:
        exif[0x0112] = orientation
    picture.save(TARGET / name, quality=72, exif=exif.tobytes() if orientation else b"")


def main():
    TARGET.mkdir(parents=True, exist_ok=True)
    garage = crack(concrete(1), 2, (90, 40), (520, 430), 5)
    save(tape(garage, 380), "crack-closet-corner.jpg")
    # Held upright: the camera stores it lying on its side and says so (EXIF 6).
    tall = tape(joint(concrete(3, (480, 640)), 8), 300)
    save(tall.rotate(90, expand=True), "step-at-six-feet.jpg", orientation=6)
    save(joint(concrete(4, tone=140), 16, (92, 74, 52)), "buried-joint.jpg")
    floor = concrete(5, tone=148)
    stain = Image.new("L", SIZE, 0)
    ImageDraw.Draw(stain).ellipse([120, 90, 560, 420], fill=215)
    stain = stain.filter(ImageFilter.GaussianBlur(26))
    floor.paste(Image.new("RGB", SIZE, (40, 38, 36)), (0, 0), stain)
    floor.resize((400, 300)).quantize(24).convert("RGB").quantize(24).save(TARGET / "black-adhesive.png", optimize=True)
    save(tape(crack(concrete(6), 7, (30, 250), (610, 190), 11), 400), "crack-boat-door.jpg")
    save(joint(concrete(8, tone=132), 22, (110, 88, 60)), "buried-joint-crib.jpg")
    broken = concrete(9)
    rng = random.Random(10)
    ImageDraw.Draw(broken).polygon(jagged(rng, (40, 480), (330, 300), 7, 16) + jagged(rng, (330, 300), (620, 480), 7, 16), fill=(96, 90, 82))
    save(broken, "broken-sill.jpg")
    # Held upside down (EXIF 3).
    step = tape(joint(concrete(11), 5), 210)
    save(step.rotate(180), "step-at-lathe.jpg", orientation=3)


if __name__ == "__main__":
    main()
