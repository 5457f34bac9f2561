"""What is cut more often than it is asked for, or would be."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping

from proofgen.day.judging import Judged
from proofgen.making.completing import run_of
from proofgen.making.laying import rests
from proofgen.making.sheet_files import label
from proofgen.making.undone import open_sheets
from proofgen.records.archive import Archive
from proofgen.sheets.job import Job, Lies
from proofgen.sheets.layers_cut import LAYER_KINDS, layer_subject, layers_cut


def lying_twice(
    items: Iterable[Judged], before: Mapping[str, int], records: Archive
) -> tuple[str, ...]:
    """A sentence for each board to be cut that holds more of a layer than these rows lack now;
    `before` is how often each layer was cut before this was noted, and others are passed over.
    """
    cut = layers_cut(records.entries(*LAYER_KINDS))
    come = {subject for subject, count in cut.items() if count > before.get(subject, 0)}
    left = _lacking(items, cut)
    open_ = (*rests(records), *open_sheets(records))
    # What was laid again on purpose is made already.
    boards = (job for job in open_ if not run_of(job, records).again)
    return tuple(_told(job, more) for job in boards if (more := list(_more(job, come, left))))


def surplus(
    items: Iterable[Judged], before: Mapping[str, int], records: Archive
) -> tuple[str, ...]:
    """A sentence for each layer of these rows of which more came, since so many were cut `before`,
    than are asked for.
    """
    items = tuple(items)
    cut = layers_cut(records.entries(*LAYER_KINDS))
    left = _lacking(items, cut)
    found: dict[str, str] = {}
    for item in items:
        order, artwork = item.made.order, item.made.artwork
        for layer in artwork.layers if artwork else ():
            subject = layer_subject(order.number, item.piece, layer.name)
            more = min(-left[subject], cut[subject] - before.get(subject, 0))
            if more > 0:
                whose = f"{order.number} {item.called}".strip()
                found[subject] = f"{more} more than asked for: {whose}, {layer.name}"
    return tuple(found.values())


def _lacking(items: Iterable[Judged], cut: Mapping[str, int]) -> Counter[str]:
    """By subject, how many copies of a layer the rows lack."""
    found: Counter[str] = Counter()
    for item in items:
        order, artwork = item.made.order, item.made.artwork
        for layer in artwork.layers if artwork else ():
            found[layer_subject(order.number, item.piece, layer.name)] += order.quantity
    found.subtract({subject: cut[subject] for subject in found})
    return found


def _more(job: Job, come: Collection[str], left: Counter[str]) -> Iterator[Lies]:
    """What a board holds beyond what is lacking, which it lessens."""
    for each in job.lies:
        subject = layer_subject(each.number, each.code, each.layer)
        if each.ahead or subject not in come:
            continue
        if left[subject] > 0:
            left[subject] -= 1
        else:
            yield each


def _told(job: Job, lies: Iterable[Lies]) -> str:
    what = "; ".join(map(label, lies))
    return f"{job.id} holds what is cut by now ({what}): run sheets again before you cut it."
