"""Sheets for 60 and 300 mixed pieces against an upright grid, and published instances.

Run with `python tests/bench/packing.py [60] [300] [published]`. Everything is compared within one
run. The pieces are the front layers of the designs that ship, with Faker's names, on a sheet of
304.8 mm with margin 3 and gap 2; each layout is checked by tests/nested.py too.
"""

from __future__ import annotations

import os
import resource
import sys
import tempfile
import time
from hashlib import sha256
from pathlib import Path as File

sys.path.insert(0, str(File(__file__).parents[1]))

from nested import faults
from pictures import book
from test_nesting_published import instance, share_of_record

from proofgen.geometry.path import Path, join
from proofgen.geometry.polygons import area
from proofgen.nesting.engine import Effort, Search, strips
from proofgen.nesting.nest import nest
from proofgen.nesting.part import Board, Layout, Part, Supply
from proofgen.nesting.remainder import remainder
from proofgen.nesting.saved import to_json
from proofgen.nesting.shape import shape_of

SHEET = Board(304.8, 304.8, 3, 2)
LEAST = (80, 120)  # mm, as the workshop's defaults say what of a board is kept
WHOLE = SHEET.width * SHEET.height
PUBLISHED = ("albano", "marques", "shirts", "swim")


def main() -> None:
    asked = sys.argv[1:] or ["60", "published"]
    for word in asked:
        if word == "published":
            published()
        else:
            pieces(int(word))


def pieces(count: int) -> None:
    designs = fronts(count)
    parts = [part for same in designs for part in same]
    start, cpu = time.perf_counter(), children()
    layout = nest(parts, Supply(SHEET), progress=progress)
    took, cpu = time.perf_counter() - start, children() - cpu
    check(layout, parts)
    total = sum(area(part.outline) for part in parts)
    grid, rows = sum(map(gridded, designs)), upright(parts)
    full = total / WHOLE / len(layout.boards)
    used = len(layout.boards)
    cut = used - sum(kept(number, layout, parts) for number in range(used))
    print(
        f"{count} pieces: {used} sheets, {layout.rotation}, filled {full:.3f}"
        f" (of {cut:.2f} without the remainders that are kept {total / WHOLE / cut:.3f});"
        f" {used / grid:.2f} of an upright grid of each design ({grid}),"
        f" {used / rows:.2f} of rows of upright boxes of all designs ({rows});"
        f" {took:.1f} s, {cpu:.1f} s of processors in searches;"
        f" SHA-256 {sha256(to_json(layout).encode()).hexdigest()[:12]}",
        flush=True,
    )
    shapes = tuple(shape_of(part) for part in parts)
    long = Board(SHEET.width * count, SHEET.height, SHEET.margin, SHEET.gap)
    (strip,) = strips([Search(shapes, long)], Effort(workers=2, seconds=20), 20)
    if strip is None:
        print("the engine's own strip was not found in 20 s")
        return
    one = total / (strip.width * SHEET.height)
    print(
        f"the engine's one strip in 20 s: filled {one:.3f}; sheets reach {full / one:.2f} of it,"
        f" without remainders {total / WHOLE / cut / one:.2f}"
    )


def kept(number: int, layout: Layout, parts: list[Part]) -> float:
    """What is left of a board and large enough to be used first, as a share of a sheet."""
    outlines = {part.key: part.outline for part in parts}
    placed = [outlines[each.key].moved(each.affine()) for each in layout.on(number)]
    left = remainder(layout.boards[number], placed, LEAST)
    return left.width * left.height / WHOLE if left else 0.0


def progress(done: int, total: int) -> None:
    print(f"{done} of {total} laid", file=sys.stderr, flush=True)


def fronts(count: int) -> list[list[Part]]:
    """The front layer of each piece, as it is cut, by design."""
    from proofgen.day.rows import Options, lines_of, shop_for
    from proofgen.day.shop import make_row

    with tempfile.TemporaryDirectory() as folder:
        path = File(folder) / "orders.xlsx"
        # A name on the wave in every finish, as it was measured before dark backings alone.
        offered = "[finishes.natural]\ndesigns = ['wavename']\n"
        (File(folder) / "workshop.toml").write_text(f"format = 1\n{offered}", encoding="utf-8")
        book(path, count)
        lines, _ = lines_of(path, Options())
        shop = shop_for(path, Options())
        made = [make_row(line, shop) for line in lines]
    found: dict[str, list[Part]] = {}
    for each in made:
        assert each.artwork is not None
        layer = each.artwork.layers[-1]
        outline = join(mark.path for mark in layer.marks if mark.operation == "cut-outside")
        part = Part(each.order.number, outline, tuple(map(float, layer.rotation)))
        found.setdefault(each.order.design, []).append(part)
    return [*found.values()]


def gridded(parts: list[Part]) -> int:
    """Sheets of one design in a grid of upright boxes."""
    boxes = [part.outline.bounds() for part in parts]
    room, gap = SHEET.width - 2 * SHEET.margin + SHEET.gap + 1e-9, SHEET.gap
    columns = int(room // (max(box.width for box in boxes) + gap))
    rows = int(room // (max(box.height for box in boxes) + gap))
    return -(-len(parts) // (columns * rows))


def upright(parts: list[Part]) -> int:
    """Sheets of upright boxes in rows, tallest first, each in the first row that takes it."""
    boxes = [part.outline.bounds() for part in parts]
    sizes = sorted(((box.height, box.width) for box in boxes), reverse=True)
    room, gap = SHEET.width - 2 * SHEET.margin + 1e-9, SHEET.gap
    sheets: list[list[list[float]]] = []  # rows of [height, width used]
    for height, width in sizes:
        for rows in sheets:
            row = next((r for r in rows if r[0] >= height and r[1] + gap + width <= room), None)
            if row:
                row[1] += gap + width
                break
            if sum(r[0] + gap for r in rows) + height <= room:
                rows.append([height, width])
                break
        else:
            sheets.append([[height, width]])
    return len(sheets)


def check(layout: Layout, parts: list[Part]) -> None:
    """By the second opinion; RuntimeError where it differs."""
    outlines: dict[str, Path] = {part.key: part.outline for part in parts}
    size = (SHEET.width, SHEET.height)
    laid = 0
    for number in range(len(layout.boards)):
        placed = layout.on(number)
        laid += len(placed)
        paths = [outlines[each.key].moved(each.affine()) for each in placed]
        polygons = [path.flatten(0.002)[0][:-1] for path in paths]
        if wrong := faults(polygons, size, SHEET.margin, SHEET.gap):
            raise RuntimeError(wrong[0])
    if laid != len(parts):
        raise RuntimeError("not every part is laid")


def published() -> None:
    for name in PUBLISHED:
        shapes, board = instance(name)
        start = time.perf_counter()
        never = Effort(patience=10**9, stuck=10**9, workers=os.cpu_count() or 1)
        (strip,) = strips([Search(shapes, board)], never, 20)
        assert strip is not None
        share = share_of_record(name, strip.lying, board.height)
        taken = time.perf_counter() - start
        print(f"{name}: {share:.3f} of the record's density in {taken:.0f} s", flush=True)


def children() -> float:
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


if __name__ == "__main__":
    main()
