"""A day at the bench of the invented workshop, laid by hand: two boards and a layer from stock."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from functools import cache
from pathlib import Path

from proofgen.artwork.artwork import Made
from proofgen.day.shop import make_row, open_shop
from proofgen.jobsheet.blocks import Document
from proofgen.jobsheet.boards import Cut
from proofgen.jobsheet.build import Run, job_sheet
from proofgen.jobsheet.data import JobSheet
from proofgen.jobsheet.document import document
from proofgen.orders.order import Line, Order, Source
from proofgen.sheets.job import Job, Lies
from proofgen.sheets.want import Want, Wood
from proofgen.workshop.read import load
from proofgen.workshop.workshop import Workshop

DAY = "2027-06-02"
BUYERS = {"LR-1": "Tamsin Reed", "LR-2": "\u0395\u03bb\u03ad\u03bd\u03b7", "LR-3": "Corwin Vale"}
# Order, name, design, quantity; the second line of LR-2 is not approved.
ROWS = (
    ("LR-1", "Bo", "lantern", 2),
    ("LR-2", "Liv", "wavename", 1),
    ("LR-2", "Mara", "boat", 1),
    ("LR-3", "Jonas", "plaque", 1),
)
WAITING = ("LR-2", 2)
PULLED = ("LR-1", 1, "back", 2)  # order, line, layer, copy
# What lies on each board and where, as it comes free; those turned by 180 degrees are marked.
BIRCH = (
    ("LR-3", 1, "plaque", 1, 180.0, (150.0, 80.0)),
    ("LR-1", 1, "back", 1, 0.0, (160.0, 10.0)),
    ("LR-2", 1, "front", 1, 0.0, (10.0, 150.0)),
)
WALNUT = (
    ("LR-1", 1, "front", 2, 0.0, (10.0, 10.0)),
    ("LR-1", 1, "front", 1, 0.0, (110.0, 10.0)),
    ("LR-2", 1, "back", 1, 0.0, (10.0, 150.0)),
)


@cache
def workshop() -> Workshop:
    return load(None)


@cache
def rows() -> tuple[Made, ...]:
    shop = open_shop()
    lines: dict[str, int] = {}
    found = []
    for number, name, design, quantity in ROWS:
        lines[number] = lines.get(number, 0) + 1
        order = Order(
            number=number,
            line=lines[number],
            source=Source("", "", len(found) + 2),
            design=design,
            fields=(("name", name), ("year", "2027")),
            quantity=quantity,
            buyer=BUYERS[number],
            due="2027-06-12",
            delivery="harbour market",
            quoted=Decimal("24.50") if number != "LR-3" else None,
            paid=Decimal("10") if lines[number] == 1 and number != "LR-3" else None,
        )
        found.append(make_row(Line(order), shop))
    return tuple(found)


def _want(number: str, line: int, layer: str, copy: int) -> Want:
    made = next(m for m in rows() if (m.order.number, m.order.line) == (number, line))
    art = made.artwork
    assert art is not None
    own = next(each for each in art.layers if each.name == layer)
    name = made.order.field("name")
    return Want(number, line, made.code, name, copy, own, art.size[0])


def cut(id_: str, wood: Wood, places: Sequence[tuple], uses: str = "") -> Cut:
    lies = []
    for number, line, layer, copy, turn, (x, y) in places:
        want = _want(number, line, layer, copy)
        lies.append(Lies(number, line, want.code, want.name, copy, layer, turn, x, y))
    # On the board in another order than they come free in.
    job = Job(id_, "", wood, 300.0, 300.0, uses, tuple(reversed(lies)), None)
    return Cut(job, tuple(lies), back=False, seconds=600.0, way="line by line")


def cuts() -> tuple[Cut, ...]:
    return (
        cut("S-0001", Wood("birch-3"), BIRCH),
        cut("S-0002", Wood("birch-3", "walnut"), WALNUT),
    )


def run(*boards: Cut) -> Run:
    laid = [_want(*each[:4]) for places in (BIRCH, WALNUT) for each in places]
    pulled = replace(_want(*PULLED), stock="lantern/back")
    return Run(
        cuts=boards or cuts(),
        wants={want.key: want for want in laid},
        pulled=(pulled,),
        too_large=(),
        shelves={"lantern/back": "Harbour lantern, back"},
        rows=rows(),
    )


def day(
    pictures: dict[tuple[str, int], Path] | None = None, shop: Workshop | None = None
) -> JobSheet:
    return job_sheet(run(), pictures or {}, shop or workshop(), DAY)


def paper(pictures: dict[tuple[str, int], Path] | None = None) -> Document:
    return document(day(pictures))
