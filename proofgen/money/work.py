"""What it takes to make one piece."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal

# Every step of HAND_STEPS but the one that is done once an order.
MESSAGING = "messaging"


@dataclass(frozen=True, slots=True)
class Work:
    """What a piece takes: for each layer its material and the mm² of board; minutes of the machine.

    `stained` says how many layers are stained, `hanger` is an id of the workshop's, or "none".
    """

    layers: tuple[tuple[str, Decimal], ...]
    machine: Decimal
    stained: int = 0
    hanger: str = "none"

    def hand(self) -> Iterator[tuple[str, int]]:
        """How often each step is done by hand for this piece alone."""
        layers = len(self.layers)
        yield "weeding", layers
        yield "sanding", layers
        yield "staining", self.stained
        yield "gluing", max(layers - 1, 0)
        yield "packing", 1


def measured(
    layers: Iterable[tuple[str, float]], seconds: float, stained: int = 0, hanger: str = "none"
) -> Work:
    """The work of a piece from what geometry and clock say: mm² a layer, seconds of the machine."""
    return Work(
        layers=tuple((material, _decimal(area, "0.01")) for material, area in layers),
        machine=_decimal(seconds / 60, "0.001"),
        stained=stained,
        hanger=hanger,
    )


def _decimal(value: float, step: str) -> Decimal:
    return Decimal(repr(value)).quantize(Decimal(step))
