"""Compares the pages of each PDF as two renderers drew them: same size, ink on every page, and in the same places."""

import pathlib
import re
import sys


def read_grey(path):
    data = path.read_bytes()
    head = re.match(rb"P5\s+(?:#[^\n]*\n\s*)*(\d+)\s+(\d+)\s+(\d+)\s", data)
    width, height = int(head[1]), int(head[2])
    return width, height, data[head.end():head.end() + width * height]


def cells_darker(width, height, pixels, than, cell=8):
    """Cells of the page in which some pixel is darker than a grey."""
    table = bytes(1 if value < than else 0 for value in range(256))
    found = set()
    for y in range(height):
        row = pixels[y * width:(y + 1) * width].translate(table)
        x = row.find(1)
        while x >= 0:
            found.add((x // cell, y // cell))
            x = row.find(1, (x // cell + 1) * cell)
    return found


def near(cell, cells):
    return any((cell[0] + dx, cell[1] + dy) in cells for dx in (-1, 0, 1) for dy in (-1, 0, 1))


folder = pathlib.Path(sys.argv[1])
pages = 0
for first in sorted(folder.glob("*-poppler-*.pgm")):
    name, number = re.match(r"(.*)-poppler-0*(\d+)\.pgm", first.name).groups()
    second = folder / f"{name}-mupdf-{number}.pgm"
    a, b = read_grey(first), read_grey(second)
    assert abs(a[0] - b[0]) <= 1 and abs(a[1] - b[1]) <= 1, f"{first.name}: pages of different sizes"
    # A thin line may be dark in one and pale in the other: what is dark in one must at least show in the other.
    dark_a, dark_b = cells_darker(*a, 110), cells_darker(*b, 110)
    pale_a, pale_b = cells_darker(*a, 245), cells_darker(*b, 245)
    assert len(pale_a) > 20, f"{first.name}: hardly any ink"
    stray = [c for c in dark_a if not near(c, pale_b)] + [c for c in dark_b if not near(c, pale_a)]
    assert not stray, f"{first.name}: ink that only one renderer shows, at cells {stray[:5]}"
    pages += 1
assert pages, "no page was rendered"
print(f"{pages} pages agree")
