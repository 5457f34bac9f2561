"""Which pieces are complete by what came off the boards, and what is entered for that."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from proofgen.day.daybook import copies_made, noted_of
from proofgen.day.judging import Judged
from proofgen.desk.status import MADE_PIECE, happened
from proofgen.errors import UnusableError
from proofgen.making.undone import open_pulls
from proofgen.records.archive import Archive
from proofgen.records.record import Entry, now
from proofgen.sheets import run as runs
from proofgen.sheets.job import Job
from proofgen.sheets.layers_cut import LAYER_KINDS, MADE, SPOILED, layer_subject, layers_cut
from proofgen.sheets.stock import CUT, PULLED


@dataclass(frozen=True, slots=True)
class Partly:
    """A line of which some copies are made."""

    order: str
    name: str
    made: int
    quantity: int


@dataclass(frozen=True, slots=True)
class Noted:
    """What was noted: `pieces` are the (order, name) that are complete now, `before` those named
    that were so already, `partly` those of which copies are missing; `layers` says how many came
    of it. `files` were written, `sheet` is their sheet, and `left` lies on that in the order in
    which it comes free; `jobs` are the job sheet of what is left. `again` is queued to be cut
    again, `stale` are the ids of sheets that were moved away. `mended` says what was done about
    an earlier run that was ended while it wrote, `aside` has a sentence for each board that is left
    aside, `unlike` one for each complete piece whose row stops by now and each that has no row,
    `twice` one for each board to be cut that holds what is cut by now, `surplus` one for each layer
    of which more were cut now than are asked for.
    """

    pieces: tuple[tuple[str, str], ...]
    layers: int
    before: tuple[tuple[str, str], ...] = ()
    partly: tuple[Partly, ...] = ()
    sheet: str = ""
    files: tuple[Path, ...] = ()
    left: tuple[str, ...] = ()
    jobs: tuple[Path, ...] = ()
    again: tuple[str, ...] = ()
    stale: tuple[str, ...] = ()
    mended: str = ""
    aside: tuple[str, ...] = ()
    unlike: tuple[str, ...] = ()
    twice: tuple[str, ...] = ()
    surplus: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Named:
    """A line that was named by its order: so many copies of it are made now, all told."""

    item: Judged
    copies: int


def complete(
    items: Sequence[Judged], named: Sequence[Named], entries: Iterable[Entry], records: Archive
) -> Noted:
    """Enter it all, as one change: `entries` of what was cut, what was pulled from stock for these
    `items`, and whatever the `named` ones lack yet. Pieces of which every layer is there now are
    made.
    """
    entries, before = tuple(entries), records.entries(*LAYER_KINDS)
    pulls = open_pulls(records)
    cut = layers_cut((*before, *entries))
    upto = {id(each.item): each.copies for each in named}
    come = _come(items, upto, cut, pulls)
    cut = layers_cut((*before, *entries, *come))
    ready = [item for item in items if _all_there(item, cut, upto.get(id(item)))]
    known = [item for item in ready if _was_made(item, records)]
    new = [item for item in ready if item not in known]
    with records.held():
        records.enter((*entries, *come))
        records.note(noted_of(MADE_PIECE, new, records))
    came = sum(entry.amount for entry in (*entries, *come) if entry.kind in (MADE, CUT))
    return Noted(
        pieces=tuple(map(_called, new)),
        layers=came - sum(entry.amount for entry in entries if entry.kind == SPOILED),
        before=tuple(_called(each.item) for each in named if each.item in known),
        unlike=_unlike(ready),
        partly=tuple(_partly(each, cut) for each in named if each.item not in ready),
    )


def run_of(job: Job, records: Archive) -> runs.Run:
    """The last run that has a sheet; UnusableError where none was finished."""
    found = [runs.from_json(entry.details) for entry in records.entries(runs.RUN)]
    run = next((run for run in reversed(found) if job.id in run.sheets), None)
    if run is None:
        raise UnusableError(f"the files of {job.id} were not all written; run sheets once more.")
    return run


def _called(item: Judged) -> tuple[str, str]:
    return item.made.order.number, item.called


def _unlike(items: Iterable[Judged]) -> tuple[str, ...]:
    """A sentence for each piece whose row asks for something else by now."""
    return tuple(
        f"{item.made.order.number} {item.called} is made, and its row stops now: {item.stopped_by}"
        for item in items
        if item.stopped_by
    )


def _partly(named: Named, cut: Counter[str]) -> Partly:
    return Partly(
        *_called(named.item), copies_made(named.item, cut), named.item.made.order.quantity
    )


def _was_made(item: Judged, records: Archive) -> bool:
    events = records.events(item.made.order.number)
    return MADE_PIECE in happened(item.made, item.approval, events, item.before)


def _come(
    items: Iterable[Judged], upto: Mapping[int, int], cut: Counter[str], pulls: Iterable[runs.Pull]
) -> list[Entry]:
    """What pieces lack yet and was pulled from stock, and what was pulled for pieces that are cut
    once more; all that so many copies lack, where any number is given by the item's id.
    """
    at, there, left = now(), Counter(cut), Counter(pulls)
    found: list[Entry] = []
    for item in items:
        number, artwork, piece = item.made.order.number, item.made.artwork, item.piece
        said = upto.get(id(item))
        wanted = item.before + (item.made.order.quantity if said is None else said)
        for layer in artwork.layers if artwork else ():
            subject = layer_subject(number, piece, layer.name)
            missing = max(wanted - there[subject], 0)
            ours = (number, piece, layer.name)
            own = [p for p in left.elements() if (p.number, p.code, p.layer) == ours]
            taken = own if own and own[0].again else own[:missing]
            came = len(taken) if said is None else max(len(taken), missing)
            if taken:
                found.append(Entry(at, PULLED, taken[0].stock, len(taken), subject))
            if came:
                found.append(Entry(at, MADE, subject, came))
            there[subject] += came
            left -= Counter(taken)
    return found


def _all_there(item: Judged, cut: Counter[str], upto: int | None) -> bool:
    """A piece without artwork has no layers to count, so it is there when that is said."""
    quantity = item.made.order.quantity
    if item.made.artwork is None:
        return upto == quantity
    return copies_made(item, cut) == quantity
