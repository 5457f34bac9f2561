"""How long it takes to plan and write the sheets of 300 mixed pieces, packing aside.

Run with `python tests/bench/sheet_writing.py`. Twelve layers a sheet, of five designs that ship,
each piece with its own name, every other layer turned round. CPU seconds of one process; moves
that still pass over a loose piece are counted.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from names import us_names

from proofgen.day.shop import make_row, open_shop
from proofgen.geometry.affine import Affine
from proofgen.orders.order import Line, Order, Source
from proofgen.production.clock import clock
from proofgen.production.plan import MANNERS, plan
from proofgen.production.sheet_dxf import sheet_dxf
from proofgen.production.sheet_pdf import sheet_pdf
from proofgen.production.sheet_svg import sheet_svg
from proofgen.production.steps import Laid, SheetArt, over_finished

PIECES, ACROSS, DOWN = 300, 4, 3
DESIGNS = ("boat", "lantern", "medallion", "plaque", "remembrance")
CELL = 142.0


def laid_layers() -> list[Laid]:
    """One layer of each piece, and each piece where it lies by itself."""
    shop = open_shop()
    found: list[Laid] = []
    for number, (name, _) in enumerate(us_names()[:PIECES]):
        said = (("name", name), ("year", "2027"))
        design = DESIGNS[number % len(DESIGNS)]
        made = make_row(Line(Order(str(number), 1, Source("", "", 2), design, said)), shop)
        assert made.artwork is not None
        width, height = made.artwork.size
        turn = Affine(-1, 0, 0, -1, width, height) if number % 2 else Affine()
        layer = made.artwork.layers[number % len(made.artwork.layers)]
        found.append(Laid(layer, turn, str(number)))
    return found


def sheets(found: list[Laid]) -> list[SheetArt]:
    """Twelve a sheet, in a grid."""
    many = ACROSS * DOWN
    return [
        SheetArt(ACROSS * CELL, DOWN * CELL, tuple(_placed(each, i) for i, each in enumerate(own)))
        for own in (found[at : at + many] for at in range(0, len(found), many))
    ]


def _placed(laid: Laid, number: int) -> Laid:
    row, column = divmod(number, ACROSS)
    return Laid(laid.layer, laid.at.then(Affine.shift(column * CELL, row * CELL)), laid.label)


def main() -> None:
    art = sheets(laid_layers())
    workshop = open_shop().workshop
    # What is imported and cached once is not counted.
    first = plan(art[-1], "piece", workshop)
    for write in (sheet_svg, sheet_dxf, sheet_pdf):
        write(first, workshop)
    for manner in MANNERS:
        start = time.process_time()
        plans = [plan(each, manner, workshop) for each in art]
        print(f"plan, {manner:16} {time.process_time() - start:6.2f} s")
        over = sum(over_finished(each) for each in plans)
        moves = sum(len(each.steps) for each in plans)
        print(f"  of {moves} moves {over} pass over a loose piece")
    for write in (sheet_svg, sheet_dxf, sheet_pdf):
        start = time.process_time()
        size = sum(len(write(each, workshop)) for each in plans)
        print(f"{write.__name__:22} {time.process_time() - start:6.2f} s, {size / 1e6:.1f} MB")
    start = time.process_time()
    for each in plans:
        clock(each, workshop.motion)
    print(f"clock                  {time.process_time() - start:6.2f} s")


if __name__ == "__main__":
    main()
