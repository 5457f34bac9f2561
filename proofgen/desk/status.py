"""Where every piece stands on a day, and what the days still hold."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from math import ceil
from types import MappingProxyType

from proofgen.artwork.artwork import Made
from proofgen.desk.asking import quoted_for
from proofgen.orders.order import Order
from proofgen.records.approval import Approval
from proofgen.records.record import Event, Record, piece_key
from proofgen.workshop.workshop import Selling

# From the first to the last; a piece that stops has none of these yet.
STEPS = ("stopped", "not proofed", "waiting", "approved", "made", "packed", "collected")
REDO = "redo"  # the kind of event that puts a piece back
QUOTED, CATALOGUE = "quoted", "catalogue"  # where a price stands
MADE_PIECE, PACKED, COLLECTED = "made", "packed", "collected"
DONE = (MADE_PIECE, PACKED, COLLECTED)  # kinds of events, in their order
AGREED = ("approved", *DONE)  # steps from which on a piece is sold


@dataclass(frozen=True, slots=True)
class Standing:
    """A line on a day. `waited` are the days since the buyer has the picture, 0 but for "waiting".

    `late` says that it cannot be handed over when it is due; `made` counts the copies that are
    made of an approved one; `stopped_by` says why the row of one that is made and not handed over
    stops by now.
    """

    order: Order
    step: str
    waited: int
    late: bool
    made: int = 0
    stopped_by: str = ""


@dataclass(frozen=True, slots=True)
class Owed:
    """What an order costs and what is paid of it: `source` says where the price stands, QUOTED or
    CATALOGUE, or is empty where there is none. `row` is that of its first line; `unclear` says why
    it cannot be told what is to be paid.
    """

    number: str
    buyer: str
    row: int
    price: Decimal
    paid: Decimal
    source: str
    unclear: str = ""

    @property
    def balance(self) -> Decimal:
        """What is still to be paid; negative where it is too much."""
        return self.price - self.paid


def standing(
    made: Made,
    approved: Approval,
    pictures: Iterable[Record],
    events: Iterable[Event],
    selling: Selling,
    today: date,
    copies: int = 0,
    before: int = 0,
    stopped_by: str = "",
) -> Standing:
    """Where a line stands. `pictures` and `events` are its order's, the oldest first; of its
    `copies` so many are cut. Lines before it ask for so many of the same piece; `stopped_by` says
    what stops it.
    """
    order = made.order
    pictures = tuple(pictures)
    shown = [picture for picture in pictures if made.code and picture.code == made.code]
    step = _step(made, approved, shown, happened(made, approved, events, before))
    waited = 0
    if step == "waiting":
        waited = (today - date.fromisoformat(shown[0].made[:10])).days
    needed = _days_needed(step, selling)
    due = due_of(order)
    late = due is not None and step != "collected" and today + timedelta(needed) > due
    there = copies if step == "approved" else 0
    unlike = stopped_by if step in (MADE_PIECE, PACKED) else ""
    return Standing(order, step, max(waited, 0), late, there, unlike)


def happened(
    made: Made, approved: Approval, events: Iterable[Event], before: int = 0
) -> frozenset[str]:
    """The kinds of what happened to a piece since it was last put back (see `since_redo`), to as
    many copies as are asked for now, here and in lines before: of more than that, some wait.
    """
    wanted = before + made.order.quantity
    found = since_redo(events_of(made, approved, events))
    return frozenset(event.kind for event in found if (_copies(event) or wanted) >= wanted)


def copies_noted(
    made: Made, approved: Approval, events: Iterable[Event], kinds: Collection[str] = DONE
) -> int:
    """How many copies that was noted of since the piece was last put back, on all its lines."""
    found = since_redo(events_of(made, approved, events))
    return max((_copies(event) for event in found if event.kind in kinds), default=0)


def since_redo(events: Sequence[Event]) -> Sequence[Event]:
    """The events after the last one that put the piece back."""
    kinds = [event.kind for event in events]
    return events[len(kinds) - kinds[::-1].index(REDO) if REDO in kinds else 0 :]


def noted(at: str, kind: str, order: Order, piece: str, copies: int) -> Event:
    """The event that so many copies of a piece, all told, were made, packed, collected."""
    return Event(at, kind, order.number, order.line, piece, f"{copies}")


def _copies(event: Event) -> int:
    """Of how many copies an event tells; 0 where that was not kept, as it was not at first."""
    return int(event.details) if event.kind in DONE and event.details else 0


def events_of(made: Made, approved: Approval, events: Iterable[Event]) -> tuple[Event, ...]:
    """What happened to a piece, of its order's events: to the one that was approved, whatever its
    row asks for now; else to one that shows what the row asks for, whatever the design has become
    since.
    """
    order = made.order
    known = {piece_key(order, made.code), *approved.alike}
    known |= {approved.record.code} if approved.record else set()
    return tuple(
        event
        for event in events
        if event.code in known or (not event.code and event.line == order.line)
    )


def _step(made: Made, approved: Approval, shown: Sequence[Record], found: Collection[str]) -> str:
    furthest = next((kind for kind in reversed(DONE) if kind in found), "")
    if furthest:
        return furthest
    if made.verdict == "stop":
        return "stopped"
    if approved.stands:
        return "approved"
    return "waiting" if shown else "not proofed"


def _days_needed(step: str, selling: Selling) -> int:
    if step in ("packed", "collected"):
        return 0
    drying = 0 if step == "made" else selling.drying_days
    return drying + selling.packing_days


def due_of(order: Order) -> date | None:
    """The day when a line is due, where that was typed as a date."""
    try:
        return date.fromisoformat(order.due)
    except ValueError:
        return None


def owed(
    orders: Iterable[Order],
    asked: Mapping[str, Decimal] = MappingProxyType({}),
    unclear: Mapping[str, str] = MappingProxyType({}),
) -> tuple[Owed, ...]:
    """By order number, what is not paid yet (or paid too much), summed over its lines; `asked` says
    what the catalogue asks for those that are not quoted, `unclear` why of others nobody can tell.
    """
    found: dict[str, list[Order]] = {}
    for order in orders:
        found.setdefault(order.number, []).append(order)
    sums = (_owed(own, asked.get(n), unclear.get(n, "")) for n, own in found.items())
    return tuple(each for each in sums if each.balance or each.unclear)


def _owed(lines: Sequence[Order], asked: Decimal | None, unclear: str) -> Owed:
    quoted = quoted_for(lines)
    price = None if unclear else asked if quoted is None else quoted
    source = "" if price is None else CATALOGUE if quoted is None else QUOTED
    return Owed(
        number=lines[0].number,
        buyer=next((line.buyer for line in lines if line.buyer), ""),
        row=lines[0].source.row,
        price=price or Decimal(),
        paid=sum((line.paid or Decimal() for line in lines), Decimal()),
        source=source,
        unclear=unclear,
    )


@dataclass(frozen=True, slots=True)
class Room:
    """Whether another piece can be handed over by a day; `before` are pieces that come first.

    `last` is the last day on which it can be taken, None where that is past.
    """

    by: date
    before: int
    last: date | None


def room(standings: Iterable[Standing], by: date, selling: Selling, today: date) -> Room:
    """Room for one more piece: the pieces that are not made yet and due by then go before it."""
    before = sum(
        each.order.quantity - each.made
        for each in standings
        if each.step in ("not proofed", "waiting", "approved")
        and (due := due_of(each.order)) is not None
        and due <= by
    )
    days = ceil((before + 1) / selling.pieces_a_day) - 1
    last = by - timedelta(selling.drying_days + selling.packing_days + days)
    return Room(by, before, last if last >= today else None)


def soonest(standings: Sequence[Standing], selling: Selling, today: date) -> date | None:
    """The first day by which one more piece could be handed over; None within a year."""
    days = (today + timedelta(n) for n in range(366))
    return next((day for day in days if room(standings, day, selling, today).last), None)


def last_due(standings: Iterable[Standing], today: date) -> date | None:
    """The last day from now on that a piece is due which is not handed over."""
    open_ = (due_of(each.order) for each in standings if each.step != COLLECTED)
    return max((due for due in open_ if due and due >= today), default=None)


def counts(standings: Iterable[Standing]) -> Mapping[str, int]:
    """How many pieces are at each step, quantities counted."""
    found = dict.fromkeys(STEPS, 0)
    for each in standings:
        found[each.step] += each.order.quantity
    return found
