"""Boards that lie there already, by what is wanted of them today: rows change in the meantime."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from proofgen.artwork.artwork import Made
from proofgen.jobsheet.trays import Copy, copy_of
from proofgen.sheets.job import Job, Lies
from proofgen.sheets.want import Want

# A layer of a copy of a row's piece, and the place on a board of what is cut for one.
Slot = tuple[Copy, str]
Place = tuple[str, int]


@dataclass(frozen=True, slots=True)
class Serving:
    """The boards, each layer under the line and the number of the copy that it is for today, or
    number 0 where nobody asks for it any more; and the wants that they do not serve.
    """

    boards: tuple[Job, ...]
    left: tuple[Want, ...]


def serving(
    boards: Sequence[Job],
    wants: Iterable[Want],
    waiting: Iterable[Want],
    again: Collection[str],
    rows: Iterable[Made],
) -> Serving:
    """What the boards are for: the wants first, then those that are `waiting` for their rows to be
    ready; boards of the ids `again` also for what `rows` ask for and was cut before.
    """
    wants = tuple(wants)
    lying = {
        (job.id, n): lies for job in boards for n, lies in enumerate(job.lies) if not lies.ahead
    }
    found = _matched(lying, map(_slot, wants))
    for open_, ids in ((map(_slot, waiting), None), (_slots(rows), again)):
        rest = {
            place: lies
            for place, lies in lying.items()
            if place not in found and (ids is None or place[0] in ids)
        }
        found.update(_matched(rest, open_))
    served = set(found.values())
    return Serving(
        tuple(_told(job, found) for job in boards),
        tuple(want for want in wants if _slot(want) not in served),
    )


def _matched(lying: Mapping[Place, Lies], slots: Iterable[Slot]) -> dict[Place, Slot]:
    """Whatever is alike but for line and number serves the slot of its own, else the last one."""
    free = set(slots)
    found: dict[Place, Slot] = {}
    for place, lies in lying.items():
        if _slot(lies) in free:
            found[place] = _slot(lies)
            free.remove(_slot(lies))
    for place, lies in lying.items():
        alike = [slot for slot in free if _alike(slot) == _alike(_slot(lies))]
        if alike and place not in found:
            found[place] = max(alike)
            free.remove(found[place])
    return found


def _slot(each: Lies | Want) -> Slot:
    return copy_of(each), each.layer if isinstance(each, Lies) else each.layer.name


def _alike(slot: Slot) -> tuple[str, str, str]:
    (number, _, code, _), layer = slot
    return number, code, layer


def _slots(rows: Iterable[Made]) -> set[Slot]:
    """All that the rows ask for."""
    return {
        ((made.order.number, made.order.line, made.code, copy), layer.name)
        for made in rows
        for layer in (made.artwork.layers if made.artwork else ())
        for copy in range(1, made.order.quantity + 1)
    }


def _told(job: Job, found: Mapping[Place, Slot]) -> Job:
    def now(n: int, lies: Lies) -> Lies:
        if lies.ahead:
            return lies
        if (job.id, n) not in found:
            return replace(lies, copy=0)
        (_, line, _, copy), _ = found[job.id, n]
        return replace(lies, line=line, copy=copy)

    return replace(job, lies=tuple(now(n, lies) for n, lies in enumerate(job.lies)))
