"""A piece beside the others of its order on the same design, which hang side by side."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from proofgen.artwork.compose import SlotFit, fit_slots
from proofgen.artwork.settle import Piece, prepared, settled
from proofgen.designs.choices import quoted
from proofgen.designs.design import Design, Template
from proofgen.flags import kinds
from proofgen.flags.flag import Flag, stops
from proofgen.lettering.bench import Bench
from proofgen.orders.order import ORDER, Line, Order
from proofgen.workshop.workshop import Workshop

Flags = tuple[Flag, ...]


def settled_with(
    order: Order,
    design: Design,
    template: Template,
    kin: Sequence[Line],
    workshop: Workshop,
    bench: Bench,
) -> tuple[Design, Flags]:
    """The design grown, and alike with its kin where the template wants that; flags say what the
    pieces share, which of them is unlike this one, and which stops and may change this one yet.
    """
    pieces, waiting = [Piece(order, design)], []
    for line in kin if template.family else ():
        other, _ = prepared(template, line.order, workshop, bench)
        if other and not stops(line.flags):
            pieces.append(Piece(line.order, other))
        else:
            waiting.append(line.order)
    designs = settled(pieces, template.family, workshop, bench)
    if not template.family or not kin:
        return designs[0], ()
    orders = [piece.order for piece in pieces]
    mine, *others = (
        fit_slots(each, its, workshop, bench) for each, its in zip(orders, designs, strict=True)
    )
    waiting += [each for each, fits in zip(orders[1:], others, strict=True) if not _made(fits)]
    found = [
        *_alike(order, design, designs[0], len(pieces)),
        *_unlike(order, mine, orders[1:], others, bench),
    ]
    if waiting and _made(mine):
        found.append(Flag(kinds.FAMILY_WAITS, order.where("name"), subject=_called(waiting[0])))
    return designs[0], tuple(found)


def _made(fitted: Sequence[SlotFit]) -> bool:
    return all(item.lettering for item in fitted)


def _alike(order: Order, design: Design, now: Design, count: int) -> Iterator[Flag]:
    if count > 1 and _looks(now) != _looks(design):
        yield Flag(kinds.FAMILY_ALIKE, order.where("name"), str(count))


def _looks(design: Design) -> list[tuple[str, float]]:
    """The face and the size that each field would have if nothing stood against them."""
    return [(slot.faces[0], slot.cap_height.wanted) for slot in design.slots]


def _unlike(
    order: Order,
    mine: Sequence[SlotFit],
    orders: Sequence[Order],
    others: Sequence[Sequence[SlotFit]],
    bench: Bench,
) -> Iterator[Flag]:
    """A flag for each field that the first unlike one of the others has in another face."""
    for field, face in _faces(mine).items():
        for other, fits in zip(orders, others, strict=True):
            its = _faces(fits).get(field, face)
            if its != face:
                titles = bench.faces[its].title, bench.faces[face].title
                yield Flag(kinds.FAMILY_UNLIKE, order.where(field), *titles, _called(other))
                break


def _faces(fitted: Sequence[SlotFit]) -> dict[str, str]:
    """The face of each field that is seen; the order's number is covered."""
    return {
        item.lettering.field: item.lettering.face
        for item in fitted
        if item.lettering and item.lettering.field != ORDER
    }


def _called(order: Order) -> str:
    """The piece by its name; rows may be sorted."""
    name = order.field("name")
    return quoted(name) if name else "a piece without a name"
