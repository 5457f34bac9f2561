"""What was spoiled, by the ledger."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from proofgen.records.record import Entry
from proofgen.sheets.layers_cut import SPOILED, layers_cut

RATE_DECIMALS = 4


@dataclass(frozen=True, slots=True)
class Losses:
    """Layers that are cut and good, layers that were spoiled, and these by the reason given."""

    good: int
    spoiled: int
    reasons: tuple[tuple[str, int], ...]

    @property
    def rate(self) -> Decimal | None:
        """How many were spoiled for each good one, as the workshop file's loss is reckoned; None
        where none is good yet.
        """
        if not self.good:
            return None
        return Decimal(round(Fraction(self.spoiled * 10**RATE_DECIMALS, self.good))).scaleb(
            -RATE_DECIMALS
        )


def losses(entries: Iterable[Entry], numbers: Collection[str]) -> Losses:
    """Those of the orders of these numbers; `entries` are of layers made and spoiled, the oldest
    first. Reasons come by their counts.
    """
    own = [entry for entry in entries if json.loads(entry.subject)[0] in numbers]
    reasons: Counter[str] = Counter()
    for entry in own:
        if entry.kind == SPOILED:
            reasons[" ".join(entry.details.split()) or "no reason given"] += entry.amount
    ranked = sorted(reasons.items(), key=lambda pair: (-pair[1], pair[0]))
    return Losses(sum(layers_cut(own).values()), reasons.total(), tuple(ranked))
