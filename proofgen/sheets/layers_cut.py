"""Which layers of which pieces are cut, by the ledger."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterable

from proofgen.records.record import Entry

MADE, SPOILED = "layer-made", "layer-spoiled"
SPARE = "layer-spare"  # cut beyond what was asked for, and counted no more
LAYER_KINDS = (MADE, SPOILED, SPARE)


def layer_subject(number: str, piece: str, layer: str) -> str:
    """What a layer of a piece stands under; `piece` is its key (see records.record.piece_key)."""
    return json.dumps([number, piece, layer], ensure_ascii=False)


def layers_cut(entries: Iterable[Entry]) -> Counter[str]:
    """By subject, how many copies are cut, were not spoiled and are no spare ones."""
    found: Counter[str] = Counter()
    for entry in entries:
        if entry.kind == MADE:
            found[entry.subject] += entry.amount
        elif entry.kind in (SPOILED, SPARE):
            found[entry.subject] = max(found[entry.subject] - entry.amount, 0)
    return found
