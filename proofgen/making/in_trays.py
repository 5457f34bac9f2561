"""Pieces in their trays from one day to the next: cut and not packed, under the same number."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping

from proofgen.day.daybook import copies_made
from proofgen.day.judging import Judged
from proofgen.desk.status import COLLECTED, PACKED, copies_noted, happened
from proofgen.jobsheet.trays import Copy
from proofgen.records.archive import Archive
from proofgen.records.record import Entry, now
from proofgen.sheets.layers_cut import LAYER_KINDS, layers_cut

TRAYS = "trays"  # the kind of the entry with the numbers of all trays in use


def unfinished(items: Iterable[Judged], records: Archive) -> frozenset[Copy]:
    """The copies of which every layer is cut and which are not packed yet."""
    cut = layers_cut(records.entries(*LAYER_KINDS))
    found: set[Copy] = set()
    for item in items:
        made, order = item.made, item.made.order
        told = made, item.approval, records.events(order.number)
        if made.verdict == "stop" or happened(*told, item.before) & {PACKED, COLLECTED}:
            continue
        packed = item.share(copies_noted(*told, kinds=(PACKED, COLLECTED)))
        copies = range(packed + 1, copies_made(item, cut) + 1)
        found.update((order.number, order.line, made.code, copy) for copy in copies)
    return frozenset(found)


def tray_numbers(records: Archive) -> dict[Copy, int]:
    """The numbers of the trays by the last job sheet."""
    last = records.entries(TRAYS)[-1:]
    return {tuple(copy): number for e in last for *copy, number in json.loads(e.details)}


def trays_entry(numbers: Mapping[Copy, int]) -> Entry:
    """What keeps these numbers."""
    told = [[*copy, number] for copy, number in numbers.items()]
    return Entry(now(), TRAYS, "", details=json.dumps(told, ensure_ascii=False))
