"""Which layers belong together: a tray for each copy of a piece, over all boards of a run."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from itertools import count
from types import MappingProxyType

from proofgen.artwork.artwork import Made
from proofgen.jobsheet.data import BEFORE, LATER, NOWHERE, STOCK, Tray, TrayLayer
from proofgen.sheets.job import Lies
from proofgen.sheets.want import Want

# Of a layer: order, line, code, copy and the layer's name.
Copy = tuple[str, int, str, int]
Places = Mapping[tuple[Copy, str], tuple[str, int]]


def copy_of(each: Lies | Want) -> Copy:
    """Which copy of which piece a layer belongs to."""
    return each.number, each.line, each.code, each.copy


def numbers_of(trays: Iterable[Tray]) -> dict[Copy, int]:
    """The numbers of the trays."""
    return {(each.order, each.line, each.code, each.copy): each.number for each in trays}


def trays_of(
    rows: Sequence[Made],
    on_boards: Mapping[str, Sequence[Lies]],
    pulled: Iterable[Want],
    too_large: Iterable[Want],
    later: Iterable[Want] = (),
    unfinished: Collection[Copy] = (),
    known: Mapping[Copy, int] = MappingProxyType({}),
) -> tuple[Tray, ...]:
    """The copies of which a layer is on a board or comes from stock, and the `unfinished` ones.

    `on_boards` are the layers of each board as they come free. Trays keep the number by which they
    are `known`; the numbers that nobody has go to the others in the order of `rows`, orders
    together.
    """
    places: dict[tuple[Copy, str], tuple[str, int]] = {
        (copy_of(lies), lies.layer): (board, number)
        for board, order in on_boards.items()
        for number, lies in enumerate(order, 1)
        if not lies.ahead
    }
    places.update({(copy_of(want), want.layer.name): (STOCK, 0) for want in pulled})
    wanted = {*unfinished, *(copy for copy, _ in places)}
    for whence, wants in ((NOWHERE, too_large), (LATER, later)):
        places.update({(copy_of(want), want.layer.name): (whence, 0) for want in wants})
    firsts = {made.order.number: i for i, made in reversed(list(enumerate(rows)))}
    free = (number for number in count(1) if number not in known.values())
    found: list[Tray] = []
    for made in sorted(rows, key=lambda made: firsts[made.order.number]):
        for number in range(1, made.order.quantity + 1):
            copy = (made.order.number, made.order.line, made.code, number)
            if copy in wanted:
                found.append(_tray(known.get(copy) or next(free), made, copy, places))
    return tuple(sorted(found, key=lambda tray: tray.number))


def _tray(number: int, made: Made, copy: Copy, places: Places) -> Tray:
    artwork, order = made.artwork, made.order
    assert artwork is not None  # it was laid
    layers = tuple(
        TrayLayer(layer, *places.get((copy, layer.name), (BEFORE, 0)))
        for layer in sorted(artwork.layers, key=lambda layer: layer.depth)
    )
    name = order.called or artwork.title
    return Tray(number, *copy, name, artwork, layers, order.due, order.delivery)
