"""The lines across which a design grows: the tables [[growth]] in design.toml."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from proofgen import config
from proofgen.designs.design import Growth, Slot
from proofgen.designs.grow import crosses_askew, seen_from
from proofgen.designs.read_layer import DrawnLayer
from proofgen.errors import UnusableError

GROWTH_KEYS = ("axis", "at", "most", "field")
AXES = ("x", "y")
MOST = 500.0  # mm


def read_growth(table: config.Table, file: str) -> tuple[Growth, ...]:
    """Read them all; UnusableError names the table that is wrong."""
    tables = config.tables(table, "growth", file, [])
    return tuple(_one(each, f"{file}, growth {number}") for number, each in enumerate(tables, 1))


def check_growth(
    growth: Sequence[Growth], layers: Sequence[DrawnLayer], slots: Iterable[Slot], file: str
) -> None:
    """UnusableError for a line of growth that helps nothing, or that something crosses askew."""
    size = layers[0].size
    for number, each in enumerate(growth, 1):
        place, line = f"{file}, growth {number}", f"{each.axis} = {each.at:g}"
        if not 0 < each.at < size[AXES.index(each.axis)]:
            raise UnusableError(f"{place}: the line {line} lies outside the drawing; move it in.")
        if any((each.axis, each.at) == (other.axis, other.at) for other in growth[: number - 1]):
            raise UnusableError(f"{place}: the line {line} is there already; delete one of them.")
        own = [slot for slot in slots if slot.field == each.field]
        if own and not any(_widens(each, slot, size[0]) for slot in own):
            raise UnusableError(
                f"{place}: the line {line} does not run through the zone of '{each.field}', which "
                f"is no larger then; move the line into it."
            )
    for drawn in layers:
        for each in growth:
            _check_crossings(each, drawn)


def _widens(growth: Growth, slot: Slot, width: float) -> bool:
    """Whether the line runs through the slot's zone."""
    seen = seen_from(growth, slot.side, width)
    along = [corner[AXES.index(growth.axis)] for corner in slot.zone]
    return min(along) < seen.at < max(along)


def _check_crossings(growth: Growth, drawn: DrawnLayer) -> None:
    for side in drawn.sides.values():
        seen = seen_from(growth, side.side, drawn.size[0])
        for place, path in side.elements:
            if crosses_askew(path, seen):
                raise UnusableError(
                    f"{place}: crosses the line of growth {growth.axis} = {growth.at:g} other "
                    f"than straight; move the line, or draw a straight stretch across it."
                )


def _one(table: config.Table, place: str) -> Growth:
    config.check_keys(table, GROWTH_KEYS, place)
    return Growth(
        axis=config.choice(table, "axis", place, AXES),
        at=config.number(table, "at", place),
        most=config.number(table, "most", place, least=0.5, most=MOST),
        field=config.text(table, "field", place),
    )
